package plan_test

import (
	"slices"
	"strings"
	"testing"
)

const roofKit = `
kit: Roof
parts: {house: {paint: before-close}, roof: {}, desk: {paint: before-close}, lamp: {}}
joins:
  - {fit: desk, to: house, with: ca}
  - {fit: lamp, to: house, with: ca}
  - {fit: roof, to: house, with: screw}
spaces:
  room: {closed-by: [house, roof], holds: [desk, lamp]}
`

// What is painted before a roof goes on is recalled there, though screws come out again;
// with glue it is a last call instead.
func TestPaintInside(t *testing.T) {
	const roof = 2
	screwed := checked(t, roofKit).Sequence
	if got := screwed.PaintInside(roof); !slices.Equal(got, []int{0, 2}) || len(screwed.LastCall(roof)) > 0 {
		t.Errorf("with screws painted inside %v, last calls %v", got, screwed.LastCall(roof))
	}
	glued := checked(t, strings.Replace(roofKit, "screw", "epoxy", 1)).Sequence
	if got := glued.PaintInside(roof); len(got) > 0 || len(glued.LastCall(roof)) != 4 {
		t.Errorf("with glue painted inside %v, last calls %v", got, glued.LastCall(roof))
	}
}
