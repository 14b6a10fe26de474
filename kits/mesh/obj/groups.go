package obj

import (
	"fmt"
	"slices"

	"dryfit/kits/disjoint"
	"dryfit/kits/mesh"
	"dryfit/kits/mesh/scan"
)

// groups sorts the faces of an OBJ file into meshes.
//
// Files with several objects ("o") hold one mesh for each. Files without hold one
// for each group ("g"), but groups that share corners by number are patches of one
// surface, and make one mesh with the name of the first.
type groups struct {
	objects, names named
	inObject       int
	inGroup        int
	runs           []run
}

// run is consecutive faces that belong together.
type run struct{ first, object, group int }

// named numbers names in order of appearance.
type named struct {
	list  []string
	index map[string]int
}

func (n *named) of(name string) int {
	i, ok := n.index[name]
	if !ok {
		i = len(n.list)
		n.list = append(n.list, name)
		n.index[name] = i
	}
	return i
}

func (g *groups) begin() {
	g.objects.index, g.names.index = map[string]int{}, map[string]int{}
	g.inObject, g.inGroup = g.objects.of(""), g.names.of("")
}

func (g *groups) object(rest []byte) { g.inObject = g.objects.of(scan.CleanName(string(rest))) }

func (g *groups) group(rest []byte) { g.inGroup = g.names.of(scan.CleanName(string(rest))) }

// mark starts a run at face number first, the next one, under the last name.
func (g *groups) mark(first int) {
	if n := len(g.runs); n == 0 || g.runs[n-1].object != g.inObject || g.runs[n-1].group != g.inGroup {
		g.runs = append(g.runs, run{first, g.inObject, g.inGroup})
	}
}

// meshes splits the faces by what they belong to.
func (p *file) meshes() ([]*mesh.Mesh, error) {
	set := make([]int, len(p.runs)) // which mesh a run belongs to, by the number of a name
	for i, r := range p.runs {
		set[i] = r.object
	}
	from := &p.objects
	if one(set) {
		if whole := p.patches(); !one(whole) {
			set, from = whole, &p.names
		}
	}
	var names []string
	var parts []*mesh.Indexed
	byName := map[int]*mesh.Indexed{}
	for i := range p.runs {
		part := byName[set[i]]
		if part == nil {
			if len(parts) == scan.MaxMeshes {
				return nil, fmt.Errorf("more than %d objects in one file", scan.MaxMeshes)
			}
			part = &mesh.Indexed{Corners: p.corners, Faces: p.facesOf(i)}
			byName[set[i]] = part
			names, parts = append(names, from.list[set[i]]), append(parts, part)
			continue
		}
		part.Faces = append(part.Faces, p.facesOf(i)...)
	}
	list := make([]*mesh.Mesh, len(parts))
	for i, part := range parts {
		var err error
		if list[i], err = mesh.Measure(names[i], part, "obj", i); err != nil {
			return nil, err
		}
	}
	return list, nil
}

// facesOf is the faces of a run.
func (p *file) facesOf(i int) [][3]uint32 {
	end := len(p.faces)
	if i+1 < len(p.runs) {
		end = p.runs[i+1].first
	}
	return p.faces[p.runs[i].first:end:end]
}

func one(set []int) bool {
	return !slices.ContainsFunc(set, func(v int) bool { return v != set[0] })
}

// patches gives each run the number of the first group that its own is connected
// to by shared corners, directly or through others.
func (p *file) patches() []int {
	joined := disjoint.New(len(p.names.list))
	owner := make([]int32, len(p.corners)) // of each corner: a group, plus one
	for i, r := range p.runs {
		for _, f := range p.facesOf(i) {
			for _, c := range f {
				if o := owner[c]; o == 0 {
					owner[c] = int32(r.group) + 1
				} else {
					joined.Join(int(o)-1, r.group)
				}
			}
		}
	}
	set := make([]int, len(p.runs))
	for i, r := range p.runs {
		set[i] = joined.Find(r.group)
	}
	return set
}
