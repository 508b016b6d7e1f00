package ledger

import (
	"crypto/hmac"
	"crypto/sha256"
	"fmt"
)

// idMost is the greatest length of an id in bytes.
const idMost = 80

// checkID refuses what is not an id, so that words somebody wrote cannot end up
// in the ledger by a slip.
func checkID(what, id string) error {
	if id == "" || len(id) > idMost {
		return fmt.Errorf("%s of %d bytes: 1 to %d are allowed", what, len(id), idMost)
	}
	for _, c := range []byte(id) {
		if !isIDByte(c) {
			return fmt.Errorf("%s holds the byte %q: allowed are a to z, 0 to 9 and - . _ /", what, c)
		}
	}
	return nil
}

func isIDByte(c byte) bool {
	switch {
	case 'a' <= c && c <= 'z', '0' <= c && c <= '9':
		return true
	}
	return c == '-' || c == '.' || c == '_' || c == '/'
}

// checkName refuses the empty name: it is nobody's, and would be everybody's.
func checkName(what, name string) error {
	if name == "" {
		return fmt.Errorf("the name of %s is empty", what)
	}
	return nil
}

// hiddenSize is the length in bytes of what stands for a name.
const hiddenSize = 16

// hidden returns what stands for a name in the ledger. The same name of another
// kind is another.
func (l *Ledger) hidden(kind, name string) string {
	mac := hmac.New(sha256.New, l.salt)
	mac.Write([]byte(kind + "\x00" + name))
	return string(mac.Sum(nil)[:hiddenSize])
}
