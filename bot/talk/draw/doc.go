// Package draw makes the pictures that go with answers.
//
// Its nouns:
//
//   - A [Preparation], a [Light], a [Check] and a [Balance] hold the values of
//     one picture. Each has a Drawing method, which refuses values that no
//     picture can be made of and says what is allowed.
//   - A [Drawing] is the picture: as PNG for a channel, as SVG for a page, and
//     in words for somebody who cannot see it. The words are written from the
//     same values, never by hand.
//
// A picture is laid out once on a sheet, 360 px wide as a telephone is, and
// the sheet is then rendered twice. The PNG has two dots to the px. No letter
// is smaller than 12 px. Letters are drawn as outlines of the Go fonts, which
// stand in the program, so neither picture needs a font where it is shown.
//
// Nothing is told by colour alone: every state has a shape, a pattern or a
// word of its own as well. Equal values give equal bytes.
//
// The package does no sums of its own where [mortarboard/planner/sums] has
// them, and judges nothing: standings and strategies come from the planner.
package draw
