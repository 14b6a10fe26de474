package supports

import "math"

// bridge finds the undersides that a printer spans without support: nearly flat
// ones, along x or along y, over a gap that is short enough and between solid ends.
func (m *measuring) bridge() {
	m.bridged = nil
	if m.rules.Bridge <= 0 {
		return
	}
	m.bridged = make([]bool, len(m.spans))
	for row := range m.NY {
		m.along(row*m.NX, 1, m.NX)
	}
	for col := range m.NX {
		m.along(col, m.NX, m.NY)
	}
}

// along looks for bridges in a row of cells.
func (m *measuring) along(first, step, n int) {
	for i := 0; i < n; i++ {
		c := first + i*step
		for k := range m.of(c) {
			at := int(m.start[c]) + k
			if !m.hangs(at) || i > 0 && m.hanging(c-step, m.spans[at].low) >= 0 {
				continue // not the beginning of a gap
			}
			m.gap(first, step, i, n, at)
		}
	}
}

// gap follows an underside to the end of its gap and marks it if it can be spanned.
func (m *measuring) gap(first, step, from, n, at int) {
	var run []int
	z := m.spans[at].low
	i := from
	for ; i < n; i++ {
		s := m.hanging(first+i*step, z)
		if s < 0 {
			break
		}
		run, z = append(run, s), m.spans[s].low
	}
	if float64(len(run))*m.Pitch > m.rules.Bridge+m.Pitch/2 || from == 0 || i == n {
		return
	}
	below := float32(m.rules.Layer)
	if !m.holds(first+(from-1)*step, m.spans[at].low, below) || !m.holds(first+i*step, z, below) {
		return
	}
	for _, s := range run {
		m.bridged[s] = true
	}
}

// holds reports whether a cell is solid both at a height and just below it.
func (m *measuring) holds(cell int, z, below float32) bool {
	return m.solid(cell, z-below) && m.solid(cell, z+below/2)
}

func (m *measuring) hangs(at int) bool { return m.spans[at].need && m.spans[at].flat }

// hanging is the span of a cell whose flat underside continues one at a height; -1
// if there is none.
func (m *measuring) hanging(cell int, z float32) int {
	slope := float32(m.Pitch*math.Tan(bridgeTilt*math.Pi/180) + m.rules.Layer/2)
	for k, s := range m.of(cell) {
		if m.hangs(int(m.start[cell])+k) && s.low-z <= slope && z-s.low <= slope {
			return int(m.start[cell]) + k
		}
	}
	return -1
}
