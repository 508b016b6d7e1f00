package draw_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"flag"
	"fmt"
	"image/png"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"testing"

	"mortarboard/bot/talk/draw"
)

var update = flag.Bool("update", false, "rewrite the golden pictures in testdata")

func golden() map[string]picture {
	return map[string]picture{
		"preparation": preparation(), "light": light(), "check": check(), "balance": balance(), "balance-stop": stopped(),
	}
}

// pictures are the golden pictures, drawn once for the tests that look at them.
var pictures = sync.OnceValues(func() (map[string]draw.Drawing, error) {
	out := map[string]draw.Drawing{}
	for name, p := range golden() {
		d, err := p.Drawing()
		if err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		out[name] = d
	}
	return out, nil
})

func gallery(t *testing.T) map[string]draw.Drawing {
	t.Helper()
	out, err := pictures()
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func TestGoldenSVG(t *testing.T) {
	for name, d := range gallery(t) {
		t.Run(name, func(t *testing.T) {
			got, path := d.SVG, filepath.Join("testdata", name+".svg")
			if *update {
				if err := os.WriteFile(path, got, 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(path)
			if err != nil {
				t.Fatalf("%v: make it with -update and look at it", err)
			}
			if !bytes.Equal(got, want) {
				t.Errorf("%s differs: run with -update, look at the picture, and review the change", path)
			}
		})
	}
}

func TestNames(t *testing.T) {
	for name, d := range gallery(t) {
		if got, want := d.Name, strings.TrimSuffix(name, "-stop"); got != want {
			t.Errorf("name of %s: got %q, want %q", name, got, want)
		}
	}
}

func TestSameValuesGiveSameBytes(t *testing.T) {
	for name, p := range golden() {
		a := gallery(t)[name]
		b, err := p.Drawing()
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(a.PNG, b.PNG) || !bytes.Equal(a.SVG, b.SVG) || a.Alt != b.Alt {
			t.Errorf("%s: two drawings of the same values differ", name)
		}
	}
}

// svgHead is what a page needs to know of an SVG.
type svgHead struct {
	Width   string `xml:"width,attr"`
	Height  string `xml:"height,attr"`
	ViewBox string `xml:"viewBox,attr"`
	Role    string `xml:"role,attr"`
	Label   string `xml:"aria-label,attr"`
}

func TestPNGHasTwiceTheSizeOfTheSVG(t *testing.T) {
	for name, d := range gallery(t) {
		var head svgHead
		if err := xml.Unmarshal(d.SVG, &head); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		picture, err := png.Decode(bytes.NewReader(d.PNG))
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		height, err := strconv.Atoi(head.Height)
		if err != nil || head.Width != "360" || head.ViewBox != "0 0 360 "+head.Height {
			t.Errorf("%s: got svg of %s × %s with view box %q, want a width of 360 and whole px", name, head.Width, head.Height, head.ViewBox)
		}
		if size := picture.Bounds().Size(); size.X != 720 || size.Y != 2*height {
			t.Errorf("%s: got png of %v, want 720 × %d", name, size, 2*height)
		}
		if head.Role != "img" || head.Label != d.Alt {
			t.Errorf("%s: got role %q and label %q, want img and the alternative text", name, head.Role, head.Label)
		}
	}
}

// TestPNGIsPainted looks at the pixels, since an empty picture decodes too.
func TestPNGIsPainted(t *testing.T) {
	for name, d := range gallery(t) {
		picture, err := png.Decode(bytes.NewReader(d.PNG))
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		colours := map[[3]uint32]int{}
		for y := range picture.Bounds().Dy() {
			for x := range picture.Bounds().Dx() {
				r, g, b, a := picture.At(x, y).RGBA()
				if a != 0xFFFF {
					t.Fatalf("%s: got a clear dot at %d, %d, want paper everywhere", name, x, y)
				}
				colours[[3]uint32{r >> 8, g >> 8, b >> 8}]++
			}
		}
		total := picture.Bounds().Dx() * picture.Bounds().Dy()
		paper, ink := colours[[3]uint32{0xFB, 0xFA, 0xF6}], colours[[3]uint32{0x1E, 0x29, 0x30}]
		if paper < total/2 || paper > total*97/100 || ink < 500 {
			t.Errorf("%s: got %d dots of paper and %d of black ink of %d, want a picture on paper", name, paper, ink, total)
		}
	}
}

// TestSVGNeedsNothing holds that the file needs no font, script, style or
// network.
func TestSVGNeedsNothing(t *testing.T) {
	for name, d := range gallery(t) {
		decoder := xml.NewDecoder(bytes.NewReader(d.SVG))
		paths := 0
		for {
			token, err := decoder.Token()
			if errors.Is(err, io.EOF) {
				break
			}
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			start, ok := token.(xml.StartElement)
			if !ok {
				continue
			}
			if tag := start.Name.Local; tag != "svg" && tag != "g" && tag != "path" {
				t.Errorf("%s: got element %q, allowed svg, g, path", name, tag)
			} else if tag == "path" {
				paths++
			}
			for _, a := range start.Attr {
				if n := a.Name.Local; n == "style" || n == "href" || n == "id" || n == "class" || strings.HasPrefix(n, "on") {
					t.Errorf("%s: got attribute %q, want none that needs or clashes with anything", name, n)
				}
			}
		}
		if paths < 20 {
			t.Errorf("%s: got %d paths, want a picture", name, paths)
		}
	}
}
