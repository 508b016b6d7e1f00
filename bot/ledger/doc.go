// Package ledger keeps what must outlive a process, in one file and never in
// words that somebody wrote.
//
// Its nouns:
//
//   - A [Ledger] is what the rest of the program talks to. It holds seven things:
//     threads (the case that a conversation remembers), which message of a thread
//     has the live buttons, a [Journal] of the deliveries that came in and of the
//     places where an answer is owed, the review list for the clinical lead
//     ([Declined]), feedback on articles ([Feedback]), learning ([Card]) and where
//     the open runs stand ([Run]).
//   - A [Store] is where a Ledger keeps its rows: ordered keys, each with a
//     value, read and written in transactions through a [Tx]. There are two, a
//     file and [Memory]. Everything that a Ledger promises is made from those
//     few methods, so another Store (a database shared by a group of practices)
//     has only them to offer and the suites of package ledgertest to pass.
//
// # What is kept, and for how long
//
// Every row carries the time it was last used. A row that has outlived its time
// is not read any more, whether or not [Ledger.Sweep] has removed it yet; in a
// full table a new row pushes out the one that was not used for longest.
//
//	threads      Options.ThreadDays (30 days), 20,000 rows of at most 32 KiB
//	live         Options.ThreadDays (30 days), 20,000 rows
//	deliveries   24 hours, 200,000 rows
//	journal      7 days, 10,000 rows
//	declined     400 days, 5,000 rows
//	feedback     no limit in time, 5,000 rows
//	votes        30 days, 20,000 rows
//	learning     400 days, 100,000 rows
//	runs         2 days, 2,000 rows
//
// # What is never kept
//
// No text of a message and no name. A thread's value is the caller's: facts, not
// words. The keys of threads and deliveries, the people and the answers they
// voted on are kept only as a keyed hash (HMAC-SHA-256, cut to 128 bits). Its
// random key is kept in the ledger too, so this hides who is who from a glance
// at the file or a backup, not from somebody who holds the file and a list of
// the names to try. Reasons, articles and items are ids, and what has a blank in
// it is refused; so is a journal's place. A run names its thread in clear, so that a
// surface can lead to it, and its title is made of terms of the rules.
//
// A removed row cannot be read through the ledger, but its bytes may stand in
// the file's free pages until they are used again. A backup has live rows only.
//
// # How it is joined to the rest
//
// It imports nothing of ours, and fits the surfaces by its methods alone:
//
//	slack.Options{
//		Journal: ledger.JournalOf[slack.Place](l, "slack"),
//		Known:   l.Known,
//		Live:    l,
//	}
//
// A conversation takes Load, Save and Delete, which have plain types; whoever
// shows cards or the review list turns [Card] and [Declined] into its own.
//
// # How safe it is
//
// A method that writes returns when the row is on disk. Writes that wait at the
// same time share one commit. A process killed at any moment loses no write that
// had returned. Each row of a file has a checksum, and [Open] checks the whole
// file before it writes a byte: a damaged one is refused and left as it was.
//
// A Ledger may be used by any number of goroutines. It does not hold a thread
// still between Load and Save: whoever runs a conversation takes its messages
// one at a time.
package ledger
