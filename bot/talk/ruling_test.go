package talk

import (
	"context"
	"strconv"
	"strings"
	"testing"
)

// rulings are questions of yes or no without a number, each with the verdict of its
// check; what has none is answered by another kind, since nothing settles it flatly.
var rulings = []struct{ want, message string }{
	// by an entry
	{"outside", "can I blast the outside too"},
	{"outside", "ok to sandblast the shiny side of the crown as well?"},
	{"", "steam cleaner for saliva inside the crown, is good enough?"},
	{"", "is it fine to rinse the primer off with water"},
	{"", "I rinse the crown with water after try-in and go straight to primer. That's fine, right?"},
	{"", "glaze instead of polish after I adjusted the bite, allowed?"},
	{"", "expired primer, is it still ok"},
	{"outside", "can a cracked crown be glued"},
	{"", "is bleach next to phosphoric acid on the tray ok"},
	{"", "can I clean the crown with bleach"},
	{"", "can we autoclave a zirconia crown"},
	{"unknown", "glass ionomer with a methacrylate allergy, allowed?"}, // the conventional one, and not the other
	// what turns the deed round, or belongs to another one
	{"", "how do I keep the sand off the outside"},
	{"", "should I cover the outside before blasting"},
	{"", "why can't I blast the outside"},
	{"", "can I blast the crown after the fit checker"},
	{"", "saliva on the wet primer, can I rinse it off"},
	{"", "is it ok to steam it and then blast it after try-in"},
	{"", "does RMGIC contain methacrylate"},
	{"", "can I put the cap back on the bottle"},
	{"", "no friction at try in, will it stay on"},
	{"", "can I clean the inside after the primer"},
	{"", "is it ok to check the lamp every month"},
	{"", "do I need primer under glass ionomer"},
	// one word more may make it another deed, and nothing is allowed by its words
	{"", "can I rinse the saliva out, dry it and put the primer on?"},
	{"", "can I rinse primer off the eye?"},
	{"", "should I change gloves after touching resin?"},
	{"", "can I blast the outside before glass ionomer?"},
	{"", "can I leave hypochlorite inside for an hour?"},
	{"", "can we autoclave a crown on a titanium base"},
	// by the plan of the case
	{"outside", "zinc phosphate under a resin bonded bridge, ok?"},
	{"outside", "is self adhesive fine for a 5Y veneer"},
	{"unknown", "can I use zinc phosphate on a 3Y crown"},
	{"outside", "5Y veneer 11 dry || can I use glass ionomer"},
	{"outside", "can we use RMGI in someone with a methacrylate allergy"},
	// a case told in sentences of its own wants its plan
	{"", "the crown on 36 is opaque zirconia, the prep is tall. can I cement it with glass ionomer?"},
}

func TestRulings(t *testing.T) {
	oneByOne(t)
	talk := testTalk(t)
	for i, c := range rulings {
		var r Reply
		for _, message := range strings.Split(c.message, " || ") {
			var err error
			if r, err = talk.Handle(context.Background(), Message{Thread: "ruling " + strconv.Itoa(i), Text: message}); err != nil {
				t.Fatal(err)
			}
		}
		if r.Verdict != c.want || (r.Kind == KindCheck) != (c.want != "") {
			t.Errorf("%s\n got %s %q %v: %s\nwant %q", c.message, r.Kind, r.Verdict, r.Entries, r.Headline, c.want)
		}
	}
}
