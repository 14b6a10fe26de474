package blocking

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"runtime"
	"slices"

	"dryfit/kits/english"
	"dryfit/kits/geom"
	"dryfit/kits/mesh"
)

// ErrMemory is returned where measuring would take more memory than is allowed.
var ErrMemory = errors.New("measuring would take too much memory")

// Bytes of what is kept, as laid out in memory; what is garbage until it is collected
// takes as much again.
const (
	eventBytes = 8   // of a sample line meeting a surface, in one view
	tallyBytes = 160 // of a pair in one view, for each worker: a tally, its tiles and its index
	pairBytes  = 64  // of a pair along one axis, kept to the end
	garbage    = 2
)

// need is the memory that measuring takes, in bytes.
type need struct {
	events float64 // grows with the square of the fineness
	pairs  float64 // grows with the pieces in one line of sight
}

// needs estimates, before any work is done, how much memory measuring takes: from the area
// of the meshes how often sample lines meet them, seen from a random direction, and from
// their boxes how many pairs lie in one line of sight.
func (m *Model) needs(toward int) need {
	surface := 0.0
	for _, p := range m.Pieces {
		surface += p.Area
	}
	axes := fixedAxes()
	each := float64(m.linesOfSight(axes)) / float64(len(axes))
	kept := float64(len(axes) + maxOwnAxes + toward)
	return need{
		events: garbage * eventBytes * surface / 2 / (m.Pitch * m.Pitch),
		pairs:  garbage * each * (pairBytes*kept + tallyBytes*float64(runtime.GOMAXPROCS(0))),
	}
}

// Within returns an error if measuring pieces would take more memory than a limit, in
// bytes. It says what would be needed and what can be done about it. It also returns the
// errors of the settings.
func Within(limit int64, pieces []*mesh.Mesh, s Settings) error {
	m := &Model{Pieces: pieces}
	if err := m.settle(s); err != nil {
		return err
	}
	n, most := m.needs(len(s.Toward)), float64(limit)
	if n.events+n.pairs <= most {
		return nil
	}
	remedy := "measure fewer pieces together"
	if left := most - n.pairs; left > 0 {
		pitch := math.Ceil(m.Pitch*math.Sqrt(n.events/left)*100) / 100
		remedy = fmt.Sprintf("measure with --pitch %s or more, or fewer pieces together", english.Number(pitch, 2))
	}
	return fmt.Errorf("%w: about %s, and %s is allowed; %s, or allow more with --memory",
		ErrMemory, gigabytes(n.events+n.pairs), gigabytes(most), remedy)
}

// All reports whether every one of some pieces was measured. What was, takes little memory
// to use again.
func (k *Known) All(pieces []*mesh.Mesh) bool {
	if k == nil {
		return false
	}
	known := make(map[mesh.Hash]bool, len(k.Pieces))
	for _, h := range k.Pieces {
		known[h] = true
	}
	return !slices.ContainsFunc(pieces, func(m *mesh.Mesh) bool { return m.Len() > 0 && !known[m.Hash] })
}

func gigabytes(n float64) string { return english.Number(n/1e9, 2) + " GB" }

// linesOfSight counts, over all of some axes, the pairs of pieces that a line along it may
// meet.
func (m *Model) linesOfSight(axes []geom.Vec) int {
	n := 0
	for _, w := range axes {
		n += m.shadows(across(w))
	}
	return n
}

// shadows counts the pairs whose boxes overlap as seen over two directions.
func (m *Model) shadows(u, v geom.Vec) int {
	type shadow struct{ left, right, low, high float64 }
	var list []shadow
	for _, p := range m.all() {
		var s shadow
		s.left, s.right = m.Pieces[p].Along(u)
		s.low, s.high = m.Pieces[p].Along(v)
		list = append(list, s)
	}
	slices.SortFunc(list, func(a, b shadow) int { return cmp.Compare(a.left, b.left) })
	n := 0
	for i, s := range list {
		for _, o := range list[i+1:] {
			if o.left > s.right {
				break
			}
			if o.low <= s.high && o.high >= s.low {
				n++
			}
		}
	}
	return n
}
