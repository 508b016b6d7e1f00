package draw

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"gonum.org/v1/plot/vg"
)

// The sizes of letters in px.
const (
	headingSize = 17.0
	bodySize    = 13.0
	smallSize   = 12.0
	leading     = 1.28 // from line to line, in sizes
	ascent      = 0.75 // of capitals above the base line, in sizes
	descent     = 0.22 // below it
)

// A style is how words look.
type style struct {
	size   float64
	bold   bool
	ink    ink
	anchor float64 // 0 begins at x, 0.5 is centred on x, 1 ends at x
}

func heading() style { return style{size: headingSize, bold: true, ink: black} }
func body() style    { return style{size: bodySize, ink: black} }
func small() style   { return style{size: smallSize, ink: black} }
func lesser() style  { return style{size: smallSize, ink: grey} }

func (st style) strong() style           { st.bold = true; return st }
func (st style) at(anchor float64) style { st.anchor = anchor; return st }

// fonts are the two faces of the pictures.
type fonts struct{ regular, bold *sfnt.Font }

func loadFonts() fonts { return fonts{parsed(goregular.TTF), parsed(gobold.TTF)} }

func parsed(data []byte) *sfnt.Font {
	f, err := sfnt.Parse(data)
	if err != nil {
		panic(fmt.Sprintf("the built-in font is damaged: %v", err))
	}
	return f
}

func (f fonts) face(st style) *sfnt.Font {
	if st.bold {
		return f.bold
	}
	return f.regular
}

// em is the size at which glyphs are read before they are scaled: as fine as
// the font's own grid.
const em = 2048

// set lays words out from the origin: their outline, and their width.
func (f fonts) set(st style, words string) (vg.Path, float64) {
	var (
		buf  sfnt.Buffer
		path vg.Path
		x    float64
	)
	face, scale := f.face(st), st.size/em/64
	for _, r := range strings.ReplaceAll(words, hard, " ") {
		glyph := glyphOf(face, &buf, r)
		if segments, err := face.LoadGlyph(&buf, glyph, fixed.I(em), nil); err == nil {
			path = append(path, trace(segments, x*scale, scale)...)
		}
		x += advance(face, &buf, glyph)
	}
	return path, x * scale
}

// glyphOf is the glyph of a character; of one that the font lacks, its empty
// box.
func glyphOf(face *sfnt.Font, buf *sfnt.Buffer, r rune) sfnt.GlyphIndex {
	glyph, err := face.GlyphIndex(buf, r)
	if err != nil {
		return 0
	}
	return glyph
}

// advance is how far a glyph takes the next one, in 64ths of the font's grid.
func advance(face *sfnt.Font, buf *sfnt.Buffer, glyph sfnt.GlyphIndex) float64 {
	a, err := face.GlyphAdvance(buf, glyph, fixed.I(em), font.HintingNone)
	if err != nil {
		return 0
	}
	return float64(a)
}

// trace turns the segments of a glyph into a path at x.
func trace(segments sfnt.Segments, x, scale float64) vg.Path {
	var p vg.Path
	at := func(q fixed.Point26_6) vg.Point {
		return point{x + float64(q.X)*scale, float64(q.Y) * scale}.vg()
	}
	for _, s := range segments {
		switch s.Op {
		case sfnt.SegmentOpMoveTo:
			if p != nil {
				p.Close()
			}
			p.Move(at(s.Args[0]))
		case sfnt.SegmentOpLineTo:
			p.Line(at(s.Args[0]))
		case sfnt.SegmentOpQuadTo:
			p.QuadTo(at(s.Args[0]), at(s.Args[1]))
		case sfnt.SegmentOpCubeTo:
			p.CubeTo(at(s.Args[0]), at(s.Args[1]), at(s.Args[2]))
		}
	}
	if p != nil {
		p.Close()
	}
	return p
}

// width measures words in px.
func (s *sheet) width(st style, words string) float64 {
	var buf sfnt.Buffer
	face, w := s.fonts.face(st), 0.0
	for _, r := range strings.ReplaceAll(words, hard, " ") {
		w += advance(face, &buf, glyphOf(face, &buf, r))
	}
	return w * st.size / em / 64
}

// write puts words on the base line y.
func (s *sheet) write(st style, x, y float64, words string) {
	path, w := s.fonts.set(st, words)
	if len(path) == 0 {
		return
	}
	x -= st.anchor * w
	s.shapes = append(s.shapes, shape{path: shifted(path, x, y), ink: st.ink})
	s.boxes = append(s.boxes, box{x, y - ascent*st.size, x + w, y + descent*st.size, st.size, words})
}

func shifted(path vg.Path, dx, dy float64) vg.Path {
	by := point{dx, dy}.vg()
	for i := range path {
		path[i].Pos = path[i].Pos.Add(by)
		for j := range path[i].Control {
			path[i].Control[j] = path[i].Control[j].Add(by)
		}
	}
	return path
}

// tag writes words on a slip of paper, so that lines under them do not
// disturb.
func (s *sheet) tag(st style, x, y float64, words string) {
	w := s.width(st, words)
	l := x - st.anchor*w
	s.fill(paper, rect(l-2, y-st.size*0.85, l+w+2, y+st.size*0.28)...)
	s.write(st, x, y, words)
}

// paragraph writes words below y within a width, on as many lines as they
// need, and returns where it ends.
func (s *sheet) paragraph(st style, x, y, width float64, words string) float64 {
	return s.lines(st, x, y, s.wrap(st, width, words))
}

// lines writes lines below y and returns where they end.
func (s *sheet) lines(st style, x, y float64, lines []string) float64 {
	for _, line := range lines {
		s.write(st, x, y+st.size*0.95, line)
		y += st.size * leading
	}
	return y
}

// wrap breaks words into lines no wider than width. A word that is wider than
// a line is broken where the line ends.
func (s *sheet) wrap(st style, width float64, words string) []string {
	var out []string
	line := ""
	for _, word := range strings.FieldsFunc(words, func(r rune) bool { return r == ' ' || r == '\n' || r == '\t' }) {
		longer := strings.TrimPrefix(line+" "+word, " ")
		if s.width(st, longer) <= width {
			line = longer
			continue
		}
		if line != "" {
			out = append(out, line)
		}
		pieces := s.chop(st, width, word)
		out = append(out, pieces[:len(pieces)-1]...)
		line = pieces[len(pieces)-1]
	}
	if line != "" {
		out = append(out, line)
	}
	return out
}

// chop cuts a word into pieces no wider than width, at least a letter each.
func (s *sheet) chop(st style, width float64, word string) []string {
	var out []string
	piece := ""
	for _, r := range word {
		if piece != "" && s.width(st, piece+string(r)) > width {
			out, piece = append(out, piece), ""
		}
		piece += string(r)
	}
	return append(out, piece)
}

// clipped wraps words into at most n lines; what is cut is marked by dots.
func (s *sheet) clipped(st style, width float64, words string, n int) []string {
	lines := s.wrap(st, width, words)
	if len(lines) <= n {
		return lines
	}
	last := lines[n-1]
	for last != "" && s.width(st, last+" …") > width {
		_, size := utf8.DecodeLastRuneInString(last)
		last = last[:len(last)-size]
	}
	return append(lines[:n-1:n-1], strings.TrimRight(last, " ,;:.")+" …")
}

// hard is a space at which no line is broken.
const hard = "\u00A0"

// unbroken keeps words on one line, e.g. a number and its unit.
func unbroken(words string) string { return strings.ReplaceAll(words, " ", hard) }

// plain turns hard spaces back, for the words that go beside a picture.
func plain(words string) string { return strings.ReplaceAll(words, hard, " ") }
