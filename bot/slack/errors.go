package slack

import (
	"errors"
	"fmt"

	sdk "github.com/slack-go/slack"
)

// A Reason says why the surface stopped for good. A supervisor should not start
// the program again before a person has mended it.
type Reason string

// The reasons for stopping for good.
const (
	ReasonToken Reason = "token" // a token is malformed, revoked, expired or of the wrong kind
	ReasonScope Reason = "scope" // the app lacks a permission it needs to run
	ReasonApp   Reason = "app"   // the app is switched off or not installed
)

// A FatalError ends Run or Serve: trying again cannot help.
type FatalError struct {
	Reason Reason
	What   string // what was refused, e.g. "app token"
	Code   string // the service's word for it, or what is wrong and the mend
}

// Error says what was refused and why.
func (e *FatalError) Error() string { return fmt.Sprintf("slack %s: %s", e.What, e.Code) }

func fatal(r Reason, what, code string) error {
	return &FatalError{Reason: r, What: what, Code: code}
}

// fatalCodes are the service's refusals that no waiting mends. The library
// itself gives up on four of them only and would try the others for ever.
func fatalCodes() map[string]Reason {
	return map[string]Reason{
		"invalid_auth":            ReasonToken,
		"not_authed":              ReasonToken,
		"token_revoked":           ReasonToken,
		"token_expired":           ReasonToken,
		"not_allowed_token_type":  ReasonToken,
		"account_inactive":        ReasonApp,
		"team_access_not_granted": ReasonApp,
		"link_disabled":           ReasonApp,
		"no_permission":           ReasonScope,
		"missing_scope":           ReasonScope,
	}
}

// refusal is the service's word for why it refused, or nothing if err is of
// another sort.
func refusal(err error) string {
	var answer sdk.SlackErrorResponse
	if errors.As(err, &answer) {
		return answer.Err
	}
	return ""
}

// asFatal turns a refusal that no waiting mends into a FatalError.
func asFatal(what string, err error) error {
	if err == nil {
		return nil
	}
	code := refusal(err)
	if reason, ok := fatalCodes()[code]; ok {
		return fatal(reason, what, code+mend(reason))
	}
	var status sdk.StatusCodeError
	if errors.As(err, &status) && status.Code == 404 {
		return fatal(ReasonApp, what, "not found at this address: check the web address and that the app still exists")
	}
	return nil
}

func mend(r Reason) string {
	switch r {
	case ReasonToken:
		return ": make a new token in the app's settings and put it where the old one was"
	case ReasonScope:
		return ": add the permission in the app's settings and install the app again"
	}
	return ": switch the app on, or install it again"
}
