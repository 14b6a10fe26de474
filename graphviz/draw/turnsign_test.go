package draw

import (
	"slices"
	"testing"

	"dryfit/graphviz/picture"
	"dryfit/kits/geom"
)

// hull is the section of the turn sign in a picture; false if there is no sign.
func hull(p *picture.Picture) ([]picture.Point, bool) {
	i := slices.IndexFunc(p.Marks, func(m picture.Mark) bool {
		return m.Closed && len(m.Paths) == 1 && len(m.Paths[0]) == 2*len(section) && m.Fill == keyTone
	})
	if i < 0 {
		return nil, false
	}
	return p.Marks[i].Paths[0], true
}

// The sign is there when the model was turned over and not when only the view changed. It
// lies as the model does: narrow at the top, where the keel is, or narrow at the bottom.
func TestTurnSign(t *testing.T) {
	const above, other, below = 0, 1, 12
	s := boxes(t, [2]geom.Vec{{0, 0, 0}, {60, 40, 10}}, [2]geom.Vec{{10, 10, 10}, {50, 30, 30}})
	scene := Scene{Still: []int{0}, Onto: []int{0}, Movers: []Mover{{Pieces: []int{1}, Way: straight(0, 0, -1), Label: "12"}}}
	for _, c := range []struct {
		before, view int
		sign, keelUp bool
	}{
		{-1, above, false, false}, {-1, below, false, false}, {above, above, false, false}, {above, other, false, false},
		{above, below, true, true}, {below, above, true, false},
	} {
		got := s.Render(&scene, Choice{View: c.view}, c.before, page)
		sound(t, "turned", got.Picture, page)
		ring, sign := hull(got.Picture)
		if sign != c.sign || got.Over != c.sign {
			t.Errorf("from view %d to %d: sign %v, over %v, want %v", c.before, c.view, sign, got.Over, c.sign)
			continue
		}
		if !sign {
			continue
		}
		top := slices.MinFunc(ring, func(a, b picture.Point) int { return int(1000 * (a[1] - b[1])) })
		wide := 0.0
		for _, p := range ring {
			if p[1] == top[1] {
				wide = max(wide, 2*(p[0]-signMiddle))
			}
			if p[0] > signSize || p[1] > signSize {
				t.Errorf("the section reaches to %v, beyond its corner", p)
			}
		}
		if keelUp := wide < 2; keelUp != c.keelUp {
			t.Errorf("from view %d to %d: the section is %.1f mm wide at the top", c.before, c.view, wide)
		}
	}
}
