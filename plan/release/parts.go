package release

import (
	"fmt"
	"strings"

	"dryfit/kits"
	"dryfit/kits/mesh"
	"dryfit/plan"
	"dryfit/plan/bill"
)

// PartFile is the file of a part in a release. Copies of a part share it; both of two
// mirrored parts have their own, so that nobody has to mirror anything.
type PartFile struct {
	Part   *kits.Part
	Number string
	Path   string // of folders and name, with slashes, without the ending
	Mesh   *mesh.Mesh
}

// PartFiles lists the files of all printed parts with a mesh, by sub-build and material. A
// file is named NUMBER name, and xN behind it for N copies in the model. No two paths
// are the same on any system.
func PartFiles(p *plan.Project) []PartFile {
	var list []PartFile
	taken := map[string]bool{}
	for _, item := range bill.List(p) {
		part := item.Part
		m := p.PrintedMesh(part)
		if !part.ToPrint() || m == nil {
			continue
		}
		count := ""
		if part.Quantity > 1 {
			count = fmt.Sprintf(" x%d", part.Quantity)
		}
		folder := SafeName(buildFolder(p, item)) + "/" + SafeName(material(part)) + "/"
		path := unused(taken, folder, SafeName(item.Number+" "+part.Name), part.ID, count)
		list = append(list, PartFile{part, item.Number, path, m})
	}
	return list
}

// unused is the first path in a folder that is not taken: by a name, by an id, or by that
// with a number; with the count behind it.
func unused(taken map[string]bool, folder, name, id, count string) string {
	path := folder + name + count
	for n := 1; taken[strings.ToLower(path)]; n++ {
		if path = folder + id + count; n > 1 {
			path = fmt.Sprintf("%s%s (%d)%s", folder, id, n, count)
		}
	}
	taken[strings.ToLower(path)] = true
	return path
}

// buildFolder names the folder of the sub-build in which a part is first used.
func buildFolder(p *plan.Project, item bill.Item) string {
	switch q := p.Draft(); {
	case !item.Part.InModel():
		return "Jigs and spares"
	case q.Builds[item.Build].Letter == "" || item.Build == 0:
		return "Main build"
	default:
		return q.Builds[item.Build].Letter + " " + q.Title(item.Build)
	}
}

// material names the folder of what a part is made of.
func material(part *kits.Part) string {
	if part.Material != nil {
		return part.Material.ID
	}
	return "any material"
}
