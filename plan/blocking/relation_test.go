package blocking

// Relation of a piece that leaves along a direction to another.
type Relation int

// A piece that clashes blocks the other in every direction.
const (
	Free Relation = iota
	Blocked
	Clash
)

// Blocks reports whether piece b is in the way when piece a leaves along
// Directions[d].
func (m *Model) Blocks(a, b, d int) Relation {
	bits := m.axes[d/2].bits(a, b)
	above := side(a, b, d)
	strict := map[uint8]uint8{upper: upperOrClash, under: underOrClash}[above]
	switch {
	case bits&clashes != 0:
		return Clash
	case bits&(above|strict) != 0:
		return Blocked
	}
	return Free
}
