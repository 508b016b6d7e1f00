package draw

import "fmt"

// A Drawing is a finished picture.
type Drawing struct {
	Name string // file name without extension, e.g. "preparation"
	Alt  string // what the picture shows, for a reader who cannot see it
	PNG  []byte // two dots to the px, 720 dots wide
	SVG  []byte // 360 px wide; scales
}

// finish renders a sheet as both kinds of picture.
func finish(s *sheet, err error) (Drawing, error) {
	if err != nil {
		return Drawing{}, err
	}
	png, err := s.png()
	if err != nil {
		return Drawing{}, fmt.Errorf("drawing %s as png: %w", s.name, err)
	}
	svg, err := s.svg()
	if err != nil {
		return Drawing{}, fmt.Errorf("drawing %s as svg: %w", s.name, err)
	}
	return Drawing{Name: s.name, Alt: s.alt, PNG: png, SVG: svg}, nil
}
