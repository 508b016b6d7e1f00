package ledger

// A Migration and OpenAt let a test be a later version of the program.
type Migration = migration

// OpenAt is Open with these steps from version 1 on.
func OpenAt(path string, o Options, steps []Migration) (*Ledger, error) {
	return openFile(path, o, steps)
}
