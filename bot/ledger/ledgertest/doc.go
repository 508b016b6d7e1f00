// Package ledgertest holds the suites that every place where a ledger is kept
// must pass: [RunStore] for the rows, [Run] for the ledger made of them.
//
// A new store is tested with both:
//
//	func TestStore(t *testing.T) { ledgertest.RunStore(t, newEmptyStore) }
//	func TestLedger(t *testing.T) { ledgertest.Run(t, newEmptyPlace) }
//
// It imports testing and is for tests only.
package ledgertest
