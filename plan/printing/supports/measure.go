package supports

import (
	"context"
	"math"

	"dryfit/kits/geom"
)

// Contact is how near to the bed, mm, a surface must be to lie on it.
const Contact = 0.03

// bridgeTilt is how far, in degrees, an underside may be from parallel with the bed
// to be spanned by bridges (ours).
const bridgeTilt = 5.0

// measuring is one measurement.
type measuring struct {
	*columns
	turn    *Turn
	rules   Rules
	need    Need
	steep   float64 // cosine, from straight down, of what needs support
	flat    float64
	exact   sums // over triangles that need support
	all     sums // over lines that meet them
	left    sums // without those that are inside another solid or bridged
	onPart  float64
	bridged []bool // by span
}

// sums are an area of shadow, mm2, and the volume between the surface and the bed,
// or what is beneath, mm3.
type sums struct{ area, toBed, beneath float64 }

// Measure measures a part at a turn. box is what encloses it along the printer's
// axes. The error is one of reading the surface or of the context.
func (p *Part) Measure(ctx context.Context, t Turn, box geom.Box, rules Rules) (Need, error) {
	if err := p.weld(ctx); err != nil {
		return Need{}, err
	}
	size := box.Size()
	m := &measuring{columns: p.lines(), turn: &t, rules: rules, flat: cosine(bridgeTilt)}
	if m.steep = cosine(rules.Angle + angleTolerance); !rules.Exact {
		m.steep = cosine(rules.Angle - angleTolerance)
	}
	across := cellsAcross
	if p.Coarse {
		across /= 4
	}
	for ; ; across /= 4 {
		m.lay(size[0], size[1], across)
		m.need, m.exact = Need{}, sums{}
		err := p.each(ctx, &t, box.Min, func(i int, c *[3]geom.Vec) { m.triangle(i, c, p.Seen, across < 2*coarsest) })
		if err != nil {
			return Need{}, err
		}
		if len(m.met) <= maxMet || across < 2*coarsest {
			break
		}
	}
	m.sort()
	m.bridge()
	m.beneath()
	err := m.total(ctx)
	if err != nil {
		return Need{}, err
	}
	m.need.Islands, err = p.islands(ctx, m.columns, rules.Layer)
	return m.need, err
}

// triangle sums up a triangle and finds the lines it meets.
func (m *measuring) triangle(i int, c *[3]geom.Vec, seen func(int) bool, last bool) {
	n := c[1].Minus(c[0]).Cross(c[2].Minus(c[0])).Times(0.5)
	area := n.Length()
	if area == 0 || len(m.met) > maxMet && last {
		return
	}
	like := crossing{leaves: n[2] > 0}
	switch down := -n[2] / area; {
	case m.rules.Raise == 0 && down > 0 && max(c[0][2], c[1][2], c[2][2]) <= Contact:
		m.need.Foot -= n[2]
	case down >= m.steep:
		like.need, like.flat = true, down >= m.flat
		m.need.Area += area
		m.need.Sides[m.side(n)] += area
		m.exact.area -= n[2]
		m.exact.toBed -= n[2] * ((c[0][2]+c[1][2]+c[2][2])/3 + m.rules.Raise)
		if seen != nil && seen(i) {
			m.need.Visible += area
		}
	}
	if len(m.met) <= maxMet {
		m.add(c, like)
	}
}

// side is the side of the model that a normal at the turn is nearest to.
func (m *measuring) side(n geom.Vec) int {
	v := m.turn[0].Times(n[0]).Plus(m.turn[1].Times(n[1])).Plus(m.turn[2].Times(n[2]))
	axis := 0
	for k := 1; k < 3; k++ {
		if math.Abs(v[k]) > math.Abs(v[axis])+1e-9 {
			axis = k
		}
	}
	if v[axis] > 0 {
		return 2*axis + 1
	}
	return 2 * axis
}

// beneath sums up the lines under what needs support.
func (m *measuring) beneath() {
	cell := m.Pitch * m.Pitch
	for i := range m.met {
		if m.met[i].need {
			m.all.area += cell
			m.all.toBed += cell * (float64(m.met[i].z) + m.rules.Raise)
		}
	}
	for c := range m.Cells() {
		for k, s := range m.of(c) {
			if !s.need || m.bridged != nil && m.bridged[int(m.start[c])+k] {
				continue
			}
			height := float64(s.low) + m.rules.Raise
			m.left.area += cell
			m.left.toBed += cell * height
			if k > 0 {
				height = float64(s.low - m.of(c)[k-1].high)
				m.onPart += cell * height
			}
			m.left.beneath += cell * height
		}
	}
}

// total scales what the triangles add up to exactly by what the lines say of it. If
// no line meets what needs support, all of it stands on the bed. The error is the context's.
func (m *measuring) total(ctx context.Context) error {
	m.need.Columns = m.exact.toBed
	if m.all.area == 0 || m.all.toBed == 0 {
		return nil
	}
	share, volume := m.left.area/m.all.area, m.exact.toBed/m.all.toBed
	m.need.Area *= share
	for i := range m.need.Sides {
		m.need.Sides[i] *= share
	}
	m.need.Visible *= share
	m.need.Columns = volume * m.left.beneath
	m.need.OnPart = volume * m.onPart
	trapped, err := m.trapped(ctx)
	m.need.Trapped = volume * trapped
	return err
}

func cosine(degrees float64) float64 { return math.Cos(degrees * math.Pi / 180) }
