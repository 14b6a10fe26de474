package booklet

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"dryfit/graphviz/document"
	"dryfit/graphviz/draw"
	"dryfit/kits/geom"
	"dryfit/plan"
)

// seatsSeen: at least a fifth of what is new and of its seat shows (common practice);
// the share is counted in the pixels of the picture. Where the seat is inside, the
// picture says so.
func (c *checker) seatsSeen() (broken, known []string) {
	hidden, wires := 0, 0
	for _, p := range c.made.Pictures {
		if len(p.Scene.Run) > 0 {
			wires++
		}
		if p.Seat < draw.LeastSeat || p.New < draw.LeastSeat {
			hidden++
			text := fmt.Sprintf("step %d: %.0f %% of the seat and %.0f %% of what is new", c.q.Place[p.Step], 100*p.Seat, 100*p.New)
			if p.New < draw.LeastSeat {
				broken = append(broken, text)
			} else {
				known = append(known, text+"; the picture says so")
			}
		}
	}
	n := len(c.made.Pictures)
	if n == 0 {
		return nil, []string{"there are no pictures: the kit has no meshes"}
	}
	return broken, append(known, fmt.Sprintf("the seat can be seen in %d of %d pictures (%.1f %%), %d of them of wires", n-hidden, n, 100*float64(n-hidden)/float64(n), wires))
}

func (c *checker) arrows() (broken, known []string) {
	for _, p := range c.made.Pictures {
		for _, m := range p.Scene.Movers {
			if len(m.Way) == 0 {
				broken = append(broken, fmt.Sprintf("step %d: no direction is proven for %s", c.q.Place[p.Step], m.Label))
			}
		}
	}
	return broken, nil
}

// onTheirWay: the arrows of each picture are those of the routes that the order was
// proven with.
func (c *checker) onTheirWay() (broken, known []string) {
	for _, p := range c.made.Pictures {
		var proven []geom.Vec
		for _, t := range c.rules.AccessOf(p.Step) {
			if r := c.rules.Route(t); r != nil {
				for _, l := range r.Legs {
					proven = append(proven, l.Toward)
				}
			}
		}
		if !sameVectors(proven, p.Arrows) {
			broken = append(broken, fmt.Sprintf("step %d: the arrows are not the proven directions", c.q.Place[p.Step]))
		}
	}
	return broken, nil
}

func sameVectors(a, b []geom.Vec) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		for k := range 3 {
			if math.Abs(a[i][k]-b[i][k]) > 1e-9 {
				return false
			}
		}
	}
	return true
}

func (c *checker) newStandsOut() (broken, known []string) {
	for _, p := range c.made.Pictures {
		if len(p.Scene.Movers) == 0 {
			continue
		}
		heavy := len(p.Picture.PNG) > 0
		for _, m := range p.Picture.Marks {
			heavy = heavy || m.Stroke != "" && m.Width >= draw.NewLine && !m.Closed
		}
		if !heavy {
			broken = append(broken, fmt.Sprintf("step %d has no heavy outline", c.q.Place[p.Step]))
		}
	}
	return broken, nil
}

func (c *checker) viewKept() (broken, known []string) {
	changes := 0
	for _, s := range c.steps {
		p := c.pictures[c.tasks[s.Number]]
		if p == nil || !p.Turned {
			continue
		}
		changes++
		if s.Figure == nil || !strings.Contains(s.Figure.Caption, c.seenFrom(p.View)) {
			broken = append(broken, fmt.Sprintf("step %d changes the view and does not say from where it is seen", s.Number))
		}
		if p.Over && !slices.Contains(s.Signs, c.turnedSign(p)) {
			broken = append(broken, fmt.Sprintf("step %d turns the model over without a sign", s.Number))
		}
	}
	return broken, []string{fmt.Sprintf("the view changes in %d of %d pictures", changes, len(c.made.Pictures))}
}

func (c *checker) turnedOver() (broken, known []string) {
	n := 0
	for _, p := range c.made.Pictures {
		if p.Over {
			n++
		}
	}
	return nil, []string{fmt.Sprintf("%d times", n)}
}

// smallShare is the part of the length of the body below which work is small (common
// practice).
const smallShare = 0.05

func (c *checker) smallEnlarged() (broken, known []string) {
	for _, p := range c.made.Pictures {
		if len(p.Scene.Movers) == 0 || p.Zoomed {
			continue
		}
		body := longest(c.renderer.Bounds(p.Scene.Still))
		if part := longest(c.renderer.Bounds(p.Scene.Movers[0].Pieces)); part < smallShare*body {
			broken = append(broken, fmt.Sprintf("step %d is not enlarged: %s is %.0f %% of the body", c.q.Place[p.Step], p.Scene.Movers[0].Label, 100*part/body))
		}
	}
	return broken, nil
}

func longest(v geom.Vec) float64 { return math.Max(v[0], math.Max(v[1], v[2])) }

func (c *checker) itemsComplete() (broken, known []string) {
	without := 0
	for _, s := range c.steps {
		for _, item := range s.Needs {
			if item.Ref == "" || item.Name == "" || item.Count < 1 {
				broken = append(broken, fmt.Sprintf("step %d: %q lacks number, name or quantity", s.Number, item.Ref))
			}
			if item.Picture == nil {
				without++
			}
		}
	}
	if without > 0 {
		known = append(known, fmt.Sprintf("%d have no picture, for want of a mesh", without))
	}
	return broken, known
}

func (c *checker) hardwareNamed() (broken, known []string) {
	for _, p := range c.kit.Parts {
		if p.InModel() && p.Bought && p.Size == nil && !strings.ContainsAny(p.Name, "0123456789") {
			broken = append(broken, c.part(p)+" has no size: give its size, or say it in its name")
		}
	}
	return broken, nil
}

func (c *checker) hardwareFullSize() (broken, known []string) {
	for _, ch := range c.made.Book.Chapters {
		if ch.ID != "hardware" {
			continue
		}
		for _, b := range ch.Blocks {
			t, is := b.(document.Table)
			if !is {
				continue
			}
			for _, r := range t.Rows {
				for _, cell := range r.Cells {
					if cell.Picture != nil && cell.Picture.Scale != 1 && cell.Text == "" {
						broken = append(broken, r.Cells[1].Text+" is not drawn in full size, and its scale is not said")
					}
				}
			}
		}
	}
	return broken, nil
}

func (c *checker) fixingsNamed() (broken, known []string) {
	for _, s := range c.steps {
		if j := c.rules.Steps[c.tasks[s.Number]].Join; j != nil && j.Fixing == nil {
			broken = append(broken, fmt.Sprintf("step %d has no fixing: say with what it is joined", s.Number))
		}
	}
	return broken, nil
}

func (c *checker) paintSaid() (broken, known []string) {
	for _, s := range c.steps {
		if v := c.tasks[s.Number]; len(c.q.PaintFirst(v)) > 0 && len(s.Notes) == 0 {
			broken = append(broken, fmt.Sprintf("step %d does not say what is painted first", s.Number))
		}
	}
	return broken, nil
}

func (c *checker) lastCalls() (broken, known []string) {
	n := 0
	for _, s := range c.steps {
		v := c.tasks[s.Number]
		if s.LastCall != nil {
			n++
			if len(s.LastCall.Items) == 0 {
				broken = append(broken, fmt.Sprintf("the last call of step %d is empty", s.Number))
			}
		} else if len(c.q.LastCall(v)) > 0 {
			broken = append(broken, fmt.Sprintf("step %d shuts something for good and has no last call", s.Number))
		} else if st := c.rules.Steps[v]; st.Kind == plan.Close && !st.Join.Opens {
			known = append(known, fmt.Sprintf("closing in step %d: the kit names nothing that it would shut in", s.Number))
		}
	}
	return broken, append(known, fmt.Sprintf("%d steps have one", n))
}

func (c *checker) doNotGlue() (broken, known []string) {
	sign := c.l.Say("sign.no-glue")
	for _, s := range c.steps {
		j := c.rules.Steps[c.tasks[s.Number]].Join
		if j == nil || !isLoose(j) {
			continue
		}
		has := false
		for _, x := range s.Signs {
			has = has || x == sign
		}
		if !has {
			broken = append(broken, fmt.Sprintf("step %d opens again and does not say so", s.Number))
		}
	}
	return broken, nil
}
