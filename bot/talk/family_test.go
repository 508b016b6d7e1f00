package talk

import (
	"slices"
	"testing"
)

func TestFamily(t *testing.T) {
	for _, c := range []struct {
		phrase string
		want   []string
	}{
		{"kept dry", []string{"kept dry"}},
		{"under|below gum|gums", []string{"under gum", "below gum", "under gums", "below gums"}},
		{"on the| root", []string{"on the root", "on root"}},
		{"dam is_not|isnt on", []string{"dam is not on", "dam isnt on"}},
		{"", []string{""}},
	} {
		if got := family(c.phrase); !slices.Equal(got, c.want) {
			t.Errorf("family(%q) = %q, want %q", c.phrase, got, c.want)
		}
	}
}
