package draw

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"math"
	"regexp"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/vgimg"
	"gonum.org/v1/plot/vg/vgsvg"
)

// dotsPerInch gives two dots to each px of the sheet: the library counts 72 px
// to the inch.
const dotsPerInch = 144

// png renders the sheet as PNG.
func (s *sheet) png() ([]byte, error) {
	canvas := vgimg.NewWith(vgimg.UseWH(pageWidth, vg.Length(s.height())), vgimg.UseDPI(dotsPerInch), vgimg.UseBackgroundColor(paper))
	s.replay(canvas)
	var out bytes.Buffer
	_, err := vgimg.PngCanvas{Canvas: canvas}.WriteTo(&out)
	return out.Bytes(), err
}

// svg renders the sheet as SVG with the words for who cannot see it.
func (s *sheet) svg() ([]byte, error) {
	canvas := vgsvg.New(pageWidth, vg.Length(s.height()))
	canvas.SetColor(paper)
	canvas.Fill(s.flipped(polygon(true, rect(0, 0, pageWidth, s.height())...)))
	s.replay(canvas)
	var out bytes.Buffer
	if _, err := canvas.WriteTo(&out); err != nil {
		return nil, err
	}
	return s.tidy(out.String())
}

// styled finds the style of an element as the library writes it.
var styled = regexp.MustCompile(`style="([^"]*)"`)

// tidy gives the library's SVG a head of our own, in px and with a name for
// screen readers, and writes styles as attributes: a page whose policy refuses
// styles in the markup would show them all black.
func (s *sheet) tidy(svg string) ([]byte, error) {
	_, body, found := strings.Cut(svg, "<g ")
	if !found {
		return nil, errors.New("no group in the library's output")
	}
	var label strings.Builder
	if err := xml.EscapeText(&label, []byte(s.alt)); err != nil {
		return nil, err
	}
	head := fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" width="%g" height="%g" viewBox="0 0 %[1]g %[2]g" role="img" aria-label="%s">`,
		pageWidth, s.height(), label.String())
	body = styled.ReplaceAllStringFunc(body, attributes)
	return []byte(head + "\n<g " + strings.TrimRight(body, "\n") + "\n"), nil
}

// attributes turns style="fill:#123456;stroke:none" into attributes.
func attributes(style string) string {
	var out []string
	for _, rule := range strings.Split(styled.FindStringSubmatch(style)[1], ";") {
		if name, value, ok := strings.Cut(rule, ":"); ok {
			out = append(out, fmt.Sprintf("%s=%q", strings.TrimSpace(name), strings.TrimSpace(value)))
		}
	}
	return strings.Join(out, " ")
}

// replay draws the shapes on a canvas of the library.
func (s *sheet) replay(c vg.Canvas) {
	for _, sh := range s.shapes {
		c.SetColor(sh.ink)
		path := s.flipped(sh.path)
		if sh.width == 0 {
			c.Fill(path)
			continue
		}
		c.SetLineWidth(vg.Length(sh.width))
		c.SetLineDash(sh.dash, 0)
		c.Stroke(path)
	}
}

// flipped turns a path upside down, as the library counts y from the bottom,
// and rounds it, so that the last bits of a float leave no trace in the file.
func (s *sheet) flipped(path vg.Path) vg.Path {
	out := make(vg.Path, len(path))
	for i, c := range path {
		c.Pos = s.flip(c.Pos)
		control := make([]vg.Point, len(c.Control))
		for j, p := range c.Control {
			control[j] = s.flip(p)
		}
		c.Control = control
		out[i] = c
	}
	return out
}

func (s *sheet) flip(p vg.Point) vg.Point {
	return vg.Point{X: cents(float64(p.X)), Y: cents(s.height() - float64(p.Y))}
}

func cents(x float64) vg.Length { return vg.Length(math.Round(x*100) / 100) }
