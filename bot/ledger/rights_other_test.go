//go:build !linux

package ledger_test

import (
	"errors"

	"mortarboard/bot/ledger"
)

// fillUp is not called where there is no TestDiskFull.
func fillUp(*ledger.Ledger, string) error { return errors.New("only done on linux") }
