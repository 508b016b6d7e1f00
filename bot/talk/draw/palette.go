package draw

import "image/color"

// An ink is a colour as 0xRRGGBB.
type ink uint32

// The palette. Blue is dark and ochre is light, so that the two are told apart
// by their lightness too, whatever colours the reader's eye can see; every use
// of them has a pattern or shape as well. The contrasts are computed in a test.
const (
	paper   ink = 0xFBFAF6
	black   ink = 0x1E2930 // letters and outlines
	grey    ink = 0x4C5A63 // lesser letters, axes
	pale    ink = 0xDCE0DF // grid lines, which carry no meaning
	blue    ink = 0x1B4B6E // what resists, what is right, bonding
	sky     ink = 0xD3E2EC // fill under blue
	ochre   ink = 0xAD6F12 // what is uncertain, cementing
	straw   ink = 0xF6E6C4 // fill under ochre
	crimson ink = 0x8F1D3F // what is wrong, what stops
	ivory   ink = 0xEFE6D2 // the tooth
)

// RGBA makes an ink a [color.Color].
func (i ink) RGBA() (r, g, b, a uint32) {
	return color.NRGBA{uint8(i >> 16), uint8(i >> 8), uint8(i), 0xFF}.RGBA()
}
