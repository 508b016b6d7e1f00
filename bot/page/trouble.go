package page

import (
	"fmt"
	"math"
	"net/http"
	"time"
)

// A trouble is what went wrong, as a person reads it, with the mend. It never
// quotes a request, except for the draft, which goes back into its form.
type trouble struct {
	Status int
	What   string
	Mend   string
	Wait   time.Duration // how long to wait before trying again, or 0
	Link   string        // where the mend is, or empty
	Draft  *draft        // what the person had typed, so that it is not lost
}

// keeping gives the trouble what the person had typed.
func (t *trouble) keeping(d draft) *trouble {
	if t.Link == "" {
		t.Draft = &d
	}
	if t.Status == http.StatusNotFound {
		t.Draft = &draft{Text: d.Text} // the case is gone: what was typed opens a new one
	}
	return t
}

func strangeHost() *trouble {
	return &trouble{Status: http.StatusForbidden,
		What: "This page was asked for under a name that is not its own.",
		Mend: "Open it as 127.0.0.1 or localhost, with the port it was started on."}
}

func foreignPage() *trouble {
	return &trouble{Status: http.StatusForbidden,
		What: "Another web page tried to use this one. Nothing was asked.",
		Mend: "Open Mortarboard in a window of its own and ask there."}
}

func staleForm() *trouble {
	return &trouble{Status: http.StatusForbidden,
		What: "This form is from before a restart, or the browser kept no cookie. Nothing was asked.",
		Mend: "Press Ask once more. If this page comes back, allow cookies for this address."}
}

func wrongForm() *trouble {
	return &trouble{Status: http.StatusUnsupportedMediaType,
		What: "What was sent is not a form of this page.",
		Mend: "Ask from the page itself. Programs ask on the command line, with ask -json."}
}

func tooLong() *trouble {
	return &trouble{Status: http.StatusRequestEntityTooLarge,
		What: fmt.Sprintf("The question is longer than %d characters.", questionLimit),
		Mend: "Shorten it to what matters for this case: restoration, zirconia, margin, field, measures."}
}

func nothingAsked() *trouble {
	return &trouble{Status: http.StatusBadRequest,
		What: "There was no question in the form.",
		Mend: "Type what you want to know, then press Ask."}
}

// tooFast says how long to wait, in whole seconds, rounded up.
func tooFast(wait time.Duration) *trouble {
	seconds := max(1, int(math.Ceil(wait.Seconds())))
	unit := "seconds"
	if seconds == 1 {
		unit = "second"
	}
	return &trouble{Status: http.StatusTooManyRequests, Wait: time.Duration(seconds) * time.Second,
		What: "That was too much in too short a time.",
		Mend: fmt.Sprintf("Wait %d %s, then try again.", seconds, unit)}
}

func busy() *trouble {
	return &trouble{Status: http.StatusServiceUnavailable, Wait: 5 * time.Second,
		What: "Too many questions are being worked on. Yours was not taken.",
		Mend: "Wait a few seconds, then ask again."}
}

// late is for an answer that took too long; it may still come.
func late(id string) *trouble {
	t := &trouble{Status: http.StatusGatewayTimeout,
		What: "The answer took too long. Nothing was decided.",
		Mend: "Ask again, or ask a colleague."}
	if id != "" {
		t.Link = "/case/" + id
		t.Mend = "Look at the case in a moment: the answer may have come. If not, ask again, or ask a colleague."
	}
	return t
}

func broken() *trouble {
	return &trouble{Status: http.StatusInternalServerError,
		What: "The answer could not be worked out. Nothing was decided.",
		Mend: "Ask again in other words, or ask a colleague."}
}

func nothingSaid() *trouble {
	return &trouble{Status: http.StatusUnprocessableEntity,
		What: "There is no answer to that.",
		Mend: "Ask a question, or name what is being seated."}
}

func caseGone() *trouble {
	return &trouble{Status: http.StatusNotFound,
		What: "This case is not here. Cases are kept for half a day, only until a restart, and only for the browser that asked.",
		Mend: "Start a new case and say again what is known."}
}

func noSuchPage() *trouble {
	return &trouble{Status: http.StatusNotFound,
		What: "There is no such page.",
		Mend: "Start from the first page."}
}

func wrongMethod(method string) *trouble {
	return &trouble{Status: http.StatusMethodNotAllowed,
		What: fmt.Sprintf("%.10q is not taken at this address.", method),
		Mend: "Pages are read with GET; questions are sent with POST to /ask."}
}
