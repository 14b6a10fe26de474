package project

import (
	"fmt"
	"path/filepath"
	"strings"

	"dryfit/kits"
	"dryfit/kits/mesh"
	"dryfit/plan"
)

// match finds the mesh of each piece: by the file that its part names, by its id,
// or by the designer's number; likewise for jigs, spares and the like, which may
// have none. single means that all meshes are in one file.
func match(k *kits.Kit, all []*mesh.Mesh, single bool) (meshes []*mesh.Mesh, aside map[string]*mesh.Mesh, findings []plan.Finding) {
	byName := map[string]int{}
	ids := pieceIDs(all)
	for i, m := range all {
		byName[m.Name] = i
	}
	for i, id := range ids {
		if _, taken := byName[id]; !taken {
			byName[id] = i
		}
	}
	used := make([]bool, len(all))
	meshes = make([]*mesh.Mesh, len(k.Pieces))
	var without []string
	for p, pc := range k.Pieces {
		i, found := find(byName, pc)
		if !found {
			meshes[p], _ = mesh.FromTriangles(pc.ID, nil)
			if pc.Part.Bought || pc.Part.Made {
				without = append(without, pc.ID)
				continue
			}
			findings = append(findings, plan.NewFinding(plan.Meshes, plan.Fault, missing(k, pc, single)).
				About(pc.ID).Since("part "+pc.Part.ID, pc.Part.Pos))
			continue
		}
		used[i] = true
		meshes[p] = all[i]
	}
	aside = map[string]*mesh.Mesh{}
	others, _ := k.Aside() // parts too many to print have no meshes either
	for _, pc := range others {
		if i, found := find(byName, pc); found && pc.Copy > 0 {
			used[i] = true
			aside[pc.ID] = all[i]
		}
	}
	if len(without) > 0 {
		findings = append(findings, plan.NewFinding(plan.Meshes, plan.Note,
			"not printed and without a mesh, so they block nothing: "+strings.Join(without, ", ")))
	}
	for i, m := range all {
		if !used[i] {
			findings = append(findings, plan.NewFinding(plan.Meshes, plan.Caution,
				fmt.Sprintf("no piece of the kit has the mesh %s (%s): rename it after its piece, or add the part", kits.Plain(m.Name), kits.Plain(filepath.Base(m.File)))))
		}
	}
	return meshes, aside, findings
}

// missing says that a piece has no mesh, and where it was expected.
func missing(k *kits.Kit, p kits.Piece, single bool) string {
	switch {
	case p.Part.Mesh != "":
		return fmt.Sprintf("%s has no mesh: %s, which its part names, is not in %s", p.ID, kits.Plain(p.Part.Mesh), kits.Plain(k.Meshes))
	case single:
		return fmt.Sprintf("%s has no mesh: %s has no object of that name; add it, or name another with mesh: on the part", p.ID, kits.Plain(k.Meshes))
	}
	return fmt.Sprintf("%s has no mesh in %s; save it there in assembled position as a file of that name ending in .stl, .3mf or .obj, or name its file with mesh: on the part", p.ID, kits.Plain(k.Meshes))
}

// find is the mesh of a piece, by its names in the order in which they are tried.
func find(byName map[string]int, p kits.Piece) (int, bool) {
	for _, name := range namesOf(p) {
		if i, found := byName[name]; found {
			return i, true
		}
	}
	return 0, false
}

// MeshName is the name by which the mesh of a piece is found in a file that holds several.
func MeshName(p kits.Piece) string { return namesOf(p)[0] }

// namesOf lists the names that the mesh of a piece may have. A file that the part names
// must be there; nothing else will do.
func namesOf(p kits.Piece) []string {
	ending := ""
	if p.Part.Quantity > 1 {
		ending = fmt.Sprintf(".%d", p.Copy)
	}
	if p.Part.Mesh != "" {
		stem := filepath.Base(p.Part.Mesh)
		if e := strings.ToLower(filepath.Ext(stem)); e == ".stl" || e == ".3mf" || e == ".obj" {
			stem = stem[:len(stem)-len(e)]
		}
		if ending == "" {
			return []string{stem, PieceID(stem)}
		}
		return []string{stem + ending, fmt.Sprintf("%s-%d", stem, p.Copy)}
	}
	names := []string{p.ID, PieceID(p.ID)}
	if p.Part.Number != "" {
		names = append(names, p.Part.Number+ending, PieceID(p.Part.Number+ending))
	}
	return names
}
