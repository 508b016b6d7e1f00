package ledger

// Live returns the message of a thread whose buttons count, as SetLive last named
// it; empty if that is not known. If the ledger cannot be read it tells the log.
func (l *Ledger) Live(thread string) (message string) {
	err := l.view(func(x turn) error {
		e, err := l.live.get(x, l.hidden("thread", thread))
		message = string(e.value)
		return err
	})
	l.failed("the live message of a thread is not known", err)
	return message
}

// SetLive notes the message of a thread whose buttons count: an id, such as its
// time stamp. If it cannot be noted SetLive tells the log.
func (l *Ledger) SetLive(thread, message string) {
	err := checkID("message", message)
	if err == nil {
		err = l.update(func(x turn) error { return l.live.put(x, l.hidden("thread", thread), []byte(message)) })
	}
	l.failed("the live message of a thread was not noted", err)
}
