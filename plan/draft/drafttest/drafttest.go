// Package drafttest is for tests: small kits with their meshes, written as a designer
// would, to be compared with what is drafted from the meshes alone.
package drafttest

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"

	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
	"dryfit/kits/mesh/stl"
)

// Model is a kit as its designer wrote it, and the meshes of its pieces.
type Model struct {
	Name   string
	Kit    string // the kit file; its meshes are in the folder parts
	Meshes map[string][]mesh.Triangle
}

// Models are the kits, the same each time.
func Models() []Model { return []Model{lighthouse(), vehicle(), deckedHull()} }

// Folder is the folder of the meshes, beside the kit file.
const Folder = "parts"

// Write writes the meshes, and the kit file beside their folder.
func (m *Model) Write(dir string) error {
	parts := filepath.Join(dir, Folder)
	if err := os.MkdirAll(parts, 0o755); err != nil {
		return err
	}
	for id, list := range m.Meshes {
		var b bytes.Buffer
		if err := stl.Write(&b, list); err != nil {
			return err
		}
		if err := os.WriteFile(filepath.Join(parts, id+".stl"), b.Bytes(), 0o644); err != nil {
			return err
		}
	}
	return os.WriteFile(filepath.Join(dir, "kit.yaml"), []byte(m.Kit), 0o644)
}

// block is a box of material, cut a box of air: x, y and z from and to, mm.
func block(x0, x1, y0, y1, z0, z1 float64) meshtest.Block {
	return meshtest.Block{Min: [3]float64{x0, y0, z0}, Max: [3]float64{x1, y1, z1}}
}

func cut(x0, x1, y0, y1, z0, z1 float64) meshtest.Block {
	b := block(x0, x1, y0, y1, z0, z1)
	b.Cut = true
	return b
}

// parts collects the meshes of a model.
type parts map[string][]mesh.Triangle

func (p parts) carve(id string, blocks ...meshtest.Block) { p[id] = meshtest.Carved(blocks...) }

func (p parts) box(id string, x0, x1, y0, y1, z0, z1 float64) {
	p.carve(id, block(x0, x1, y0, y1, z0, z1))
}

// sides makes a piece on either side of the plane y = 0, the one to starboard as given.
func (p parts) sides(id string, blocks ...meshtest.Block) {
	p.carve(id+"-starboard", blocks...)
	p[id+"-port"] = meshtest.Transform(p[id+"-starboard"], [3][3]float64{{1}, {0, -1}, {0, 0, 1}}, [3]float64{}, 1)
}

// copies makes the copies of a part, each moved from the first by a multiple of a step.
func (p parts) copies(id string, n int, step [3]float64, list []mesh.Triangle) {
	for i := range n {
		var move [3]float64
		for k := range move {
			move[k] = float64(i) * step[k]
		}
		p[fmt.Sprintf("%s.%d", id, i+1)] = meshtest.Transform(list, meshtest.Identity, move, 1)
	}
}
