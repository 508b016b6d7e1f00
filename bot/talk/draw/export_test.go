package draw

// Worded is a picture whose layout is made with its words.
type Worded interface{ layout() (*sheet, error) }

// AltOf gives the words of a picture without rendering it, which a test of
// words has no need of.
func AltOf(p Worded) (string, error) {
	s, err := p.layout()
	if err != nil {
		return "", err
	}
	return s.alt, nil
}
