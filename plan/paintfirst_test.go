package plan_test

import (
	"reflect"
	"testing"
)

// What is painted by itself is painted before the first step that works on it: the base
// of a sub-build before anything is fitted to it.
func TestPaintFirst(t *testing.T) {
	p := checked(t, `kit: Boat
parts:
  hull: {}
  floor: {paint: before-fit}
  seat: {paint: before-fit}
  lamp: {paint: outside}
joins:
  - {fit: seat, to: floor, with: ca}
  - {fit: lamp, to: floor, with: ca}
  - {fit: floor, to: hull, with: ca, bench: true}
`)
	var got [][]string
	for _, v := range p.Sequence.Order {
		got = append(got, p.Kit.IDs(p.Sequence.PaintFirst(v)))
	}
	want := [][]string{{"seat", "floor"}, {}, {}}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("painted before the steps: %q, want %q", got, want)
	}
}
