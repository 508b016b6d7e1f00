package talk

import (
	"context"
	"testing"
)

// FuzzCalculation says two things at all in one thread, and the first again: it never panics, and
// no answer holds a value that is no number or that no program can read.
func FuzzCalculation(f *testing.F) {
	for _, p := range allPhrases() {
		f.Add(p.says, "ok")
	}
	for _, says := range []string{
		"", "toc", "1/2/3", "TOC 1/2/3 (top top top)", "99999999999999999999999999999999999999999 bar in psi", "connector x4 x5 3x 4x4x4 5", "delta e 1 2 3 4 5 6 7",
		"1000000000000000000 000 rpm rim speed 1 mm", "weibull m 1 m 2 m 3 m 4", "disc piston support 1 2 3 4 5 6 7 8 9 1 2 3 4 5 6 7 8 9 N", "under 3 high over 9 wide, enough?",
		"lean in 0 and lean in 0, 0 high", "0 s at 0 mW behind 0 mm", "mesh", "c in f", "in in in microns",
	} {
		f.Add(says, says)
	}
	talk := testTalk(f)
	f.Fuzz(func(t *testing.T, first, second string) {
		for _, says := range []string{first, second, first} {
			r, err := talk.Handle(context.Background(), Message{Thread: first + "/" + second, Text: says})
			if err != nil {
				t.Fatal(err)
			}
			if r.Kind == KindCalculation && (r.Headline == "" || r.Caution == "") {
				t.Errorf("no headline or no caution for %q", says)
			}
			for _, problem := range flaws(r) {
				t.Errorf("%q: %s", says, problem)
			}
		}
	})
}
