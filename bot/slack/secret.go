package slack

import (
	"fmt"
	"log/slog"
)

// hidden is what every printed form of a Secret shows.
const hidden = "***"

// A Secret is a token or a signing secret. However it is printed, logged or
// marshalled it shows as three stars; string(s) alone reveals it.
type Secret string

// String returns three stars.
func (Secret) String() string { return hidden }

// Format writes three stars whatever the verb, so that a wrong verb leaks nothing.
func (Secret) Format(f fmt.State, _ rune) { fmt.Fprint(f, hidden) }

// LogValue returns three stars.
func (Secret) LogValue() slog.Value { return slog.StringValue(hidden) }

// MarshalJSON returns three stars as a JSON string.
func (Secret) MarshalJSON() ([]byte, error) { return []byte(`"` + hidden + `"`), nil }

// MarshalText returns three stars.
func (Secret) MarshalText() ([]byte, error) { return []byte(hidden), nil }
