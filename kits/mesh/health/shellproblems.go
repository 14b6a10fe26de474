package health

import (
	"fmt"

	"dryfit/kits/disjoint"
	"dryfit/kits/english"
	"dryfit/kits/geom"
	"dryfit/kits/mesh"
)

// shellProblems finds how the shells nest and intersect.
func (x *examination) shellProblems() {
	list := x.shellList(x.edges)
	met := x.meetings(slack{x.tiny, max(x.tiny, min(0.01, 1e-4*x.Size().Length()))}, x.fans(x.edges))
	apart := disjoint.New(len(list)) // shells that meet are one body
	x.meetingProblems(list, &met, apart)
	if !x.nest(list, x.edges) {
		x.note(mesh.Unchecked, len(list), x.Centre,
			fmt.Sprintf("there are too many shells (%d) to tell which is inside which", len(list)),
			"unite the shells of the part (boolean union)")
	}
	x.nestProblems(list)
	x.countBodies(list, apart)
}

// meetingProblems classifies the triangles that meet by their shells.
func (x *examination) meetingProblems(list []shell, met *meetings, apart *disjoint.Sets) {
	var self, pairs, flat tallied
	for i := range met.list {
		p := &met.list[i]
		a, b := x.shell[p.a], x.shell[p.b]
		at := func() geom.Vec { return p.at }
		switch {
		case a == b:
			self.add(at)
			continue
		case p.flat:
			flat.add(at)
		default:
			pairs.add(at)
			list[a].cut, list[b].cut = true, true
		}
		apart.Join(int(a), int(b))
	}
	least := ""
	if met.more {
		least = "at least "
	}
	if self.n > 0 {
		x.note(mesh.Crossing, self.n, self.at,
			fmt.Sprintf("the surface cuts through itself in %s%s of triangles", least, english.Count(self.n, "pair", "pairs")),
			"unite what overlaps (boolean union), or move the faces apart")
	}
	if pairs.n > 0 {
		x.note(mesh.Overlap, pairs.n, pairs.at,
			fmt.Sprintf("shells cut into each other in %s%s of triangles", least, english.Count(pairs.n, "pair", "pairs")),
			"unite them into one solid (boolean union)")
	} else if flat.n > 0 {
		x.note(mesh.Overlap, flat.n, flat.at,
			fmt.Sprintf("shells lie against each other in %s%s of triangles", least, english.Count(flat.n, "pair", "pairs")),
			"unite them into one solid (boolean union)")
	}
	if met.given {
		x.note(mesh.Unchecked, 1, x.Centre,
			"too many triangles are in one place to check them all for intersections",
			"clean up the mesh: delete duplicate faces and unite what overlaps")
	}
}

func (x *examination) nestProblems(list []shell) {
	var hollows, within, flipped tallied
	space := 0.0
	for i := range list {
		h := &list[i]
		at := func() geom.Vec { return x.middle(h.face) }
		switch {
		case h.hollow():
			hollows.add(at)
			space -= h.volume
		case h.within():
			within.add(at)
		case h.flipped() && len(list) > 1 && x.reversed.n == 0:
			flipped.add(at)
		}
	}
	if flipped.n > 0 {
		x.serious(mesh.InsideOut, flipped.n, flipped.at,
			fmt.Sprintf("%s inside out", english.Count(flipped.n, "shell is", "shells are")),
			"flip the normals of that shell, then export again")
	}
	if within.n > 0 {
		x.note(mesh.SolidInside, within.n, within.at,
			fmt.Sprintf("%s wholly inside the solid of another", english.Count(within.n, "solid lies", "solids lie")),
			"delete the inner solid; or if it should be a hollow, flip its normals")
	}
	if hollows.n > 0 {
		x.note(mesh.Hollow, hollows.n, hollows.at,
			fmt.Sprintf("%s of %.0f mm3 in all: in a resin print, liquid stays inside", english.Count(hollows.n, "sealed hollow", "sealed hollows"), space),
			"for resin, give each hollow two drain holes at opposite ends, or fill it")
	}
}

func (x *examination) countBodies(list []shell, apart *disjoint.Sets) {
	of, n := apart.Number()
	seen := make([]bool, n)
	var second geom.Vec
	for i := range list {
		if list[i].body() && !seen[of[i]] {
			seen[of[i]] = true
			if x.health.Bodies++; x.health.Bodies == 2 {
				second = x.middle(list[i].face)
			}
		}
	}
	if x.health.Bodies > 1 {
		x.note(mesh.Bodies, x.health.Bodies, second,
			fmt.Sprintf("the part has %d separate bodies", x.health.Bodies),
			"join them, or export each as its own part")
	}
}
