package booklet

import (
	"math"

	"dryfit/graphviz/draw"
	"dryfit/kits/english"
	"dryfit/kits/geom"
)

// sides are the words for the sides of the model by the direction that they face, keys of
// the catalogue. There are none for a kit whose parts do not say which side is which.
type sides map[geom.Vec]string

// findSides takes the sides from the handed parts: all that is port, or left, lies on one
// side of what is starboard, or right. Front follows from port, with z upward; it does not
// follow from left, which some count as they face the model.
func (m *maker) findSides() sides {
	if d, ok := m.apart([]string{"port", "backbord"}); ok {
		front := d.Cross(geom.Vec{0, 0, 1})
		return sides{d: "view.port", d.Opposite(): "view.starboard", front: "view.front", front.Opposite(): "view.rear"}
	}
	if d, ok := m.apart([]string{"left", "links"}); ok {
		return sides{d: "view.left", d.Opposite(): "view.right"}
	}
	return nil
}

// apart is the direction, along x or y, in which the parts that carry one of some words lie
// from the other part of their pair; false if they do not agree on one.
func (m *maker) apart(marked []string) (geom.Vec, bool) {
	var all geom.Vec
	for _, p := range m.kit.Parts {
		if p.Pair == nil || !hasWord(p.Name, marked) || hasWord(p.Pair.Name, marked) {
			continue
		}
		a, b := m.firstCopy(p), m.firstCopy(p.Pair)
		if len(a) > 0 && len(b) > 0 && m.renderer.Has(a[0]) && m.renderer.Has(b[0]) {
			all = all.Plus(m.meshes[a[0]].Box.Centre()).Minus(m.meshes[b[0]].Box.Centre())
		}
	}
	for k := range 2 {
		if math.Abs(all[k]) > 0.9*all.Length() {
			var d geom.Vec
			d[k] = math.Copysign(1, all[k])
			return d, true
		}
	}
	return geom.Vec{}, false
}

// seenFrom says from where the model is seen in a view.
func (m *maker) seenFrom(view int) string {
	v := draw.Views[view]
	eye := geom.Vec{-v.Ahead[0], -v.Ahead[1], 0}.Unit()
	var list []string
	for k := range 2 {
		if math.Abs(eye[k]) < 0.1 {
			continue
		}
		var d geom.Vec
		d[k] = math.Copysign(1, eye[k])
		if key, known := m.sides[d]; known {
			list = append(list, m.l.Say(key))
		} else {
			list = append(list, m.l.Say("view.axis", "axis", english.Direction(d)))
		}
	}
	return m.l.Say("view.seen", "from", m.l.And(list), "height", m.l.Say("view."+v.Name))
}

// turnedSign says how the model lies once it was turned over; empty if it was not.
func (m *maker) turnedSign(p *StepPicture) string {
	switch {
	case !p.Over:
		return ""
	case draw.Views[p.View].Over():
		return m.l.Say("sign.underside-up")
	}
	return m.l.Say("sign.right-way-up")
}
