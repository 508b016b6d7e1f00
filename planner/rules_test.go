package planner

import "testing"

// TestRules proves the built-in rules: they load, and the audit finds nothing.
func TestRules(t *testing.T) {
	b, err := Load(Rules())
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range b.Audit().Findings {
		t.Error(f)
	}
}
