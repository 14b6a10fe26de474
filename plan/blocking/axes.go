package blocking

import (
	"cmp"
	"math"
	"runtime"
	"slices"

	"golang.org/x/sync/errgroup"

	"dryfit/kits/geom"
	"dryfit/kits/mesh"
)

// fixedAxes are the thirteen axes through the faces, edges and corners of a cube.
func fixedAxes() []geom.Vec {
	var list []geom.Vec
	for _, d := range []geom.Vec{
		{1, 0, 0}, {0, 1, 0}, {0, 0, 1},
		{1, 1, 0}, {1, -1, 0}, {1, 0, 1}, {1, 0, -1}, {0, 1, 1}, {0, 1, -1},
		{1, 1, 1}, {1, 1, -1}, {1, -1, 1}, {1, -1, -1},
	} {
		list = append(list, d.Unit())
	}
	return list
}

// mainAxes is how many of the fixed axes are mutually perpendicular; they come
// first.
const mainAxes = 3

// sameAxis is the sine below which two axes count as one: a pin a hundred times
// as long as it is thick still slides.
const sameAxis = 0.02 * math.Pi / 180

// alike reports whether two directions of length 1 lie along one axis. Most do not, as
// their cosine alone says.
func alike(a, b geom.Vec) bool {
	return math.Abs(a.Dot(b)) > 0.999 && a.Cross(b).Length() < math.Sin(sameAxis)
}

// addAxes adds the axes that are not in the list yet.
func addAxes(list []geom.Vec, more ...geom.Vec) []geom.Vec {
	for _, d := range more {
		if !slices.ContainsFunc(list, func(e geom.Vec) bool { return alike(d, e) }) {
			list = append(list, d)
		}
	}
	return list
}

const (
	ownShare      = 0.02   // of the area of all given pieces, for an axis to count
	flatShare     = 0.03   // of the area of a piece, for its faces one way to count as flat
	maxOwnAxes    = 18     // of a model
	stuckAxes     = 24     // of a group that is stuck
	maxFlats      = 6      // of a piece
	normalsLooked = 32_768 // of a piece; a larger one is sampled evenly
	sampleBlock   = 512    // triangles sampled together
	normalCells   = 90     // a unit length: normals in one cell of this grid are alike
)

// ownAxes lists the directions that the shapes of some pieces suggest: normal to
// their flat faces, along the edges where these meet, and along their round
// walls. They are sorted by the area that suggests them, which must reach a
// minimum share.
func ownAxes(pieces []*mesh.Mesh, which []int, share float64, most int) ([]geom.Vec, error) {
	type candidate struct {
		axis   geom.Vec
		weight float64
	}
	heaviest := func(a, b candidate) int { return cmp.Compare(b.weight, a.weight) }
	var list []candidate
	total := 0.0
	suggested, err := suggestions(pieces, which)
	if err != nil {
		return nil, err
	}
	for n, p := range which {
		total += pieces[p].Area
		flats, round := suggested[n].flats, suggested[n].round
		for i, f := range flats {
			list = append(list, candidate{f.Unit(), f.Length()})
			for _, g := range flats[:i] {
				if c := f.Unit().Cross(g.Unit()); c.Length() > 0.05 {
					list = append(list, candidate{c.Unit(), min(f.Length(), g.Length())})
				}
			}
		}
		if round.Length() > 0 {
			list = append(list, candidate{round.Unit(), round.Length()})
		}
	}
	slices.SortStableFunc(list, heaviest)
	// The axis of many small faces may be suggested more often than that of a few
	// large ones, so weights of the same axis add up.
	var sums []candidate
	for _, c := range list {
		i := slices.IndexFunc(sums, func(s candidate) bool { return alike(s.axis, c.axis) })
		if i >= 0 {
			sums[i].weight += c.weight
		} else if len(sums) < 40*most {
			sums = append(sums, c)
		}
	}
	slices.SortStableFunc(sums, heaviest)
	var axes []geom.Vec
	for _, c := range sums {
		if c.weight >= share*total && len(axes) < most {
			axes = append(axes, c.axis)
		}
	}
	return axes, nil
}

// suggestion is what one piece suggests.
type suggestion struct {
	flats []geom.Vec
	round geom.Vec
}

// suggestions evaluates the normals of some pieces, on all processors.
func suggestions(pieces []*mesh.Mesh, which []int) ([]suggestion, error) {
	list := make([]suggestion, len(which))
	var group errgroup.Group
	group.SetLimit(runtime.GOMAXPROCS(0))
	for n, p := range which {
		group.Go(func() (err error) {
			list[n].flats, list[n].round, err = normalsOf(pieces[p])
			return err
		})
	}
	return list, group.Wait()
}

// normalsOf sums up the normals of a piece. flats are the directions of its flat
// faces, with their area as length; round is the axis of its round walls,
// likewise, or zero.
func normalsOf(m *mesh.Mesh) (flats []geom.Vec, round geom.Vec, err error) {
	sums := map[[3]int8]geom.Vec{}
	var keys [][3]int8
	err = sampled(m, func(block []mesh.Triangle) {
		for i := range block {
			n := normal(&block[i])
			l := n.Length()
			if l == 0 {
				continue
			}
			if first := n; first[0] < 0 || first[0] == 0 && (first[1] < 0 || first[1] == 0 && first[2] < 0) {
				n = n.Times(-1)
			}
			var key [3]int8
			for k := range 3 {
				key[k] = int8(math.Round(n[k] / l * normalCells))
			}
			if _, known := sums[key]; !known {
				keys = append(keys, key)
			}
			sums[key] = sums[key].Plus(n)
		}
	})
	total := 0.0
	for _, k := range keys {
		total += sums[k].Length()
	}
	var heavy, rest []geom.Vec
	for _, k := range keys {
		if n := sums[k]; n.Length() >= flatShare*total {
			heavy = append(heavy, n)
		} else {
			rest = append(rest, n)
		}
	}
	slices.SortStableFunc(heavy, func(a, b geom.Vec) int { return cmp.Compare(b.Length(), a.Length()) })
	few := min(len(heavy), maxFlats)
	rest = append(rest, heavy[few:]...)
	area := m.Area / max(total, 1e-300)
	for _, n := range heavy[:few] {
		flats = append(flats, n.Times(area))
	}
	return flats, roundAxis(rest, total).Times(area), err
}

// sampled calls do with blocks of a mesh's triangles: all, or an even sample.
func sampled(m *mesh.Mesh, do func([]mesh.Triangle)) error {
	buf := make([]mesh.Triangle, sampleBlock)
	blocks := (m.Len() + sampleBlock - 1) / sampleBlock
	most := min(blocks, normalsLooked/sampleBlock)
	for i := range most {
		n, err := m.Read(i*blocks/most*sampleBlock, buf)
		if err != nil {
			return err
		}
		do(buf[:n])
	}
	return nil
}

// normal is the normal of a triangle, with its area as length.
func normal(t *mesh.Triangle) geom.Vec {
	at := geom.Point(t[0])
	return geom.Point(t[1]).Minus(at).Cross(geom.Point(t[2]).Minus(at)).Times(0.5)
}

// roundAxis is the direction perpendicular to all the normals, as the axis of a
// round wall is, with their area as length; zero if there is none.
func roundAxis(normals []geom.Vec, total float64) geom.Vec {
	var m [3]geom.Vec
	weight := 0.0
	for _, n := range normals {
		l := n.Length()
		weight += l
		for i := range 3 {
			for j := range 3 {
				m[i][j] += n[i] * n[j] / l
			}
		}
	}
	if weight < flatShare*total {
		return geom.Vec{}
	}
	// The normals lie in a plane if the matrix flattens one direction, which is
	// perpendicular to its rows; the two least parallel rows give it best.
	var best geom.Vec
	for i := range 3 {
		if c := m[i].Cross(m[(i+1)%3]); c.Length() > best.Length() {
			best = c
		}
	}
	if best.Length() < 1e-3*weight*weight {
		return geom.Vec{}
	}
	axis := best.Unit()
	off := 0.0
	for i := range 3 {
		off += axis[i] * m[i].Dot(axis)
	}
	if off > 1e-4*weight {
		return geom.Vec{}
	}
	return axis.Times(weight)
}
