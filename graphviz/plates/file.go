package plates

import (
	"bytes"
	"fmt"

	"dryfit/kits/geom"
	"dryfit/kits/mesh"
	"dryfit/kits/mesh/stl"
	"dryfit/kits/mesh/threemf"
	"dryfit/plan/printing"
)

// Name is what the files of a plate are called, without their endings.
func Name(p *printing.Plate) string { return fmt.Sprintf("plate-%02d", p.Number) }

// Title is what a plate is called.
func Title(p *printing.Plate) string {
	return fmt.Sprintf("Plate %d: %s on %s", p.Number, p.Material.ID, p.On())
}

// Left lists the pieces of a plate that no file can hold, since they have no mesh.
func Left(p *printing.Plate) (list []printing.Placed) {
	for _, x := range p.InNeed() {
		if x.Part.Mesh() == nil {
			list = append(list, x)
		}
	}
	return list
}

// Package is a plate as a 3MF package: each piece that has a mesh is an object, named
// by its id, where it is printed. The error is one of reading a mesh.
func Package(p *printing.Plate) ([]byte, error) {
	var items []threemf.Item
	for _, x := range p.Pieces {
		if m := x.Part.Mesh(); m != nil {
			items = append(items, threemf.Item{Name: x.Piece.ID, Number: x.Part.Of.Number, Mesh: m, Place: x.Transform()})
		}
	}
	var b bytes.Buffer
	err := threemf.Write(&b, Title(p), items)
	return b.Bytes(), err
}

// Solids is a plate as binary STL: all pieces that have a mesh, one after the other,
// where they are printed. The error is one of reading a mesh.
func Solids(p *printing.Plate) ([]byte, error) {
	var list []mesh.Triangle
	for _, x := range p.Pieces {
		m, t := x.Part.Mesh(), x.Transform()
		if m == nil {
			continue
		}
		err := m.Blocks(func(_ int, block []mesh.Triangle) error {
			for i := range block {
				var to mesh.Triangle
				for k, c := range block[i] {
					to[k] = t.Apply(geom.Point(c)).Single()
				}
				list = append(list, to)
			}
			return nil
		})
		if err != nil {
			return nil, err
		}
	}
	var b bytes.Buffer
	err := stl.Write(&b, list)
	return b.Bytes(), err
}
