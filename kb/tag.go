package kb

import (
	"fmt"
	"regexp"
	"strings"
)

var (
	sourceShape = regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*$`)
	keyShape    = regexp.MustCompile(`^[a-z]+(-[a-z]+)*(\.[a-z]+(-[a-z]+)*)+$`)
	condition   = regexp.MustCompile(`^([a-z_]+)=("[^"]*"|[^\s"]+)(\s+|$)`)
)

const tagMend = "write [published: id], [inferred: id], [common practice], [from memory], [computed: origin] or [house rule: who, when]"

// parseTag reads what stands between the square brackets of a basis tag.
func parseTag(text string) (*Tag, error) {
	name, rest, colon := strings.Cut(text, ":")
	t := &Tag{Basis: Basis(strings.TrimSpace(name))}
	rest = strings.TrimSpace(rest)
	if colon && rest == "" {
		return nil, fmt.Errorf("tag [%s] has nothing after its colon", text)
	}
	switch t.Basis {
	case Published, Inferred:
		return t.withSources(text, rest, true)
	case FromMemory:
		return t.withSources(text, rest, false)
	case CommonPractice:
		if colon {
			return nil, fmt.Errorf("tag [%s] names a source, which common practice has not", text)
		}
		return t, nil
	case Computed, HouseRule:
		return t.withOrigin(text, rest)
	}
	return nil, fmt.Errorf("unknown tag [%s]", text)
}

func (t *Tag) withSources(text, ids string, needed bool) (*Tag, error) {
	if ids == "" && needed {
		return nil, fmt.Errorf("tag [%s] names no source", text)
	}
	for id := range strings.SplitSeq(ids, ",") {
		id = strings.TrimSpace(id)
		if id == "" && ids == "" {
			break
		}
		if !sourceShape.MatchString(id) {
			return nil, fmt.Errorf("tag [%s] holds %q, which is no source id", text, id)
		}
		t.Sources = append(t.Sources, id)
	}
	return t, nil
}

func (t *Tag) withOrigin(text, origin string) (*Tag, error) {
	if origin == "" {
		return nil, fmt.Errorf("tag [%s] does not say whose", text)
	}
	t.Origin = origin
	return t, nil
}

// String writes the tag as it stands in a file.
func (t *Tag) String() string {
	switch {
	case len(t.Sources) > 0:
		return fmt.Sprintf("[%s: %s]", t.Basis, strings.Join(t.Sources, ", "))
	case t.Origin != "":
		return fmt.Sprintf("[%s: %s]", t.Basis, t.Origin)
	}
	return fmt.Sprintf("[%s]", t.Basis)
}

// parseReference reads what stands between the double braces of a reference.
func parseReference(text string) (*Reference, error) {
	r := &Reference{Written: "{{" + text + "}}", Conditions: map[string]string{}}
	key, rest, _ := strings.Cut(strings.TrimSpace(text), " ")
	if !keyShape.MatchString(key) {
		return nil, fmt.Errorf("reference %s does not begin with task.name", r.Written)
	}
	r.Key = key
	for rest = strings.TrimSpace(rest); rest != ""; {
		m := condition.FindStringSubmatch(rest)
		if m == nil {
			return nil, fmt.Errorf("reference %s holds %q, which is not fact=value", r.Written, rest)
		}
		if _, twice := r.Conditions[m[1]]; twice {
			return nil, fmt.Errorf("reference %s sets %s twice", r.Written, m[1])
		}
		r.Conditions[m[1]] = strings.Trim(m[2], `"`)
		rest = rest[len(m[0]):]
	}
	return r, nil
}
