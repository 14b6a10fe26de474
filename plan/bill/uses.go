package bill

import (
	"math"
	"slices"

	"dryfit/kits"
	"dryfit/kits/geom"
	"dryfit/kits/mesh"
	"dryfit/plan"
)

// uses finds where parts are used.
type uses struct {
	*plan.Project
	q       *plan.Sequence
	firstOf map[int]int // piece -> the number of the first step that joins it
	baseOf  map[int]int // piece -> the build that is built up on it
}

func usesOf(rep *plan.Project) *uses {
	u := &uses{rep, rep.Draft(), map[int]int{}, map[int]int{}}
	for _, v := range u.q.Order {
		s := rep.Constraints.Steps[v]
		for _, p := range s.InHand() {
			if s.Join != nil && u.firstOf[p] == 0 {
				u.firstOf[p] = u.q.Place[v]
			}
		}
	}
	for i, b := range u.q.Builds {
		if b.Letter != "" { // all of its steps may come after it was joined
			u.baseOf[b.Base] = i
		}
	}
	return u
}

// fitting is the step that fits a piece, unless it is the base of a group.
func (u *uses) fitting(piece int) (step int, is bool) {
	if j := u.Kit.Fitted(piece); j != nil {
		return u.Constraints.StepOf(j), true
	}
	return 0, false
}

// steps lists the numbers of the steps that bring copies of a part to the model:
// those that fit them or, for the base of a group, the first that fits something
// to it.
func (u *uses) steps(p *kits.Part) []int {
	var list []int
	for _, piece := range u.Kit.Copies(p) {
		n := u.firstOf[piece]
		if v, is := u.fitting(piece); is {
			n = u.q.Place[v]
		}
		if n > 0 && !slices.Contains(list, n) {
			list = append(list, n)
		}
	}
	slices.Sort(list)
	return list
}

// build is the build that a part is first used in; for the base of a build, that
// build.
func (u *uses) build(p *kits.Part) int {
	best, place := 0, math.MaxInt
	for _, piece := range u.Kit.Copies(p) {
		if b, is := u.baseOf[piece]; is {
			return b
		}
		if v, is := u.fitting(piece); is && u.q.Place[v] < place {
			best, place = u.q.BuildOf[v], u.q.Place[v]
		}
	}
	return best
}

// lookAlikes are parts that could be confused with a part: printed alike, with
// nearly the same box and volume, but not its mirror image and not the same shape. The margins are a
// judgement: larger differences show at a glance.
func (u *uses) lookAlikes(p *kits.Part) []*kits.Part {
	a := u.PrintedMesh(p)
	if a == nil || !p.InModel() || !p.ToPrint() {
		return nil
	}
	var list []*kits.Part
	for _, q := range u.Kit.Parts {
		if q == p || q == p.Pair || !q.InModel() || !q.ToPrint() || q.Printed != p.Printed {
			continue
		}
		if b := u.PrintedMesh(q); b != nil && a.Hash != b.Hash && near(a.Volume, b.Volume, 0.1) && alike(sorted(a), sorted(b), 0.05) && !sameShape(a, b) {
			list = append(list, q)
		}
	}
	return list
}

func sorted(m *mesh.Mesh) geom.Vec {
	s := m.Size()
	slices.Sort(s[:])
	return s
}

func alike(a, b geom.Vec, within float64) bool {
	return near(a[0], b[0], within) && near(a[1], b[1], within) && near(a[2], b[2], within)
}

func near(a, b, within float64) bool { return math.Abs(a-b) <= within*math.Max(a, b) }
