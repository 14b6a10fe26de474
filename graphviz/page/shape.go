package page

import (
	"encoding/binary"
	"math"
	"runtime"

	"golang.org/x/sync/errgroup"

	"dryfit/graphviz/draw"
	"dryfit/kits/mesh"
)

// Shape is a mesh as the page reads it, little endian:
//
//	4 uint32: numbers of corners n, triangles t, triangles c of the coarse form shown
//	    while the model turns, and edges e
//	6 float32: the box, low corner and high corner, mm
//	3n uint16: corners, as fractions of the box (padded to 4 bytes)
//	3t, 3c and 2e uint32: corners of the triangles, coarse triangles and edges
type Shape []byte

// newShapes makes the shapes of meshes, on all processors.
func newShapes(meshes []*mesh.Mesh, g grains) ([]Shape, error) {
	list := make([]Shape, len(meshes))
	var crew errgroup.Group
	crew.SetLimit(runtime.GOMAXPROCS(0))
	for i, m := range meshes {
		crew.Go(func() (err error) {
			list[i], err = newShape(m, g)
			return err
		})
	}
	return list, crew.Wait()
}

// newShape makes the shape of a mesh.
func newShape(m *mesh.Mesh, g grains) (Shape, error) {
	b, err := draw.NewBody(m, grain(g.rest))
	if err != nil {
		return nil, err
	}
	s, rough := b.Surface(), b.Coarse(grain(g.turning))
	out := make([]byte, 0, 40+6*len(s.Corners)+12*(len(s.Triangles)+len(rough))+8*len(s.Edges))
	for _, n := range []int{len(s.Corners), len(s.Triangles), len(rough), len(s.Edges)} {
		out = binary.LittleEndian.AppendUint32(out, uint32(n))
	}
	for _, v := range [][3]float64{m.Min, m.Max} {
		for _, x := range v {
			out = binary.LittleEndian.AppendUint32(out, math.Float32bits(float32(x)))
		}
	}
	for _, c := range s.Corners {
		for k := range 3 {
			out = binary.LittleEndian.AppendUint16(out, part(float64(c[k]), m.Min[k], m.Max[k]))
		}
	}
	for len(out)%4 != 0 {
		out = append(out, 0)
	}
	for _, list := range [][][3]int32{s.Triangles, rough} {
		for _, t := range list {
			for _, i := range t {
				out = binary.LittleEndian.AppendUint32(out, uint32(i))
			}
		}
	}
	for _, e := range s.Edges {
		out = binary.LittleEndian.AppendUint32(out, uint32(e[0]))
		out = binary.LittleEndian.AppendUint32(out, uint32(e[1]))
	}
	return out, nil
}

// part is where a number lies between two, from 0 to 65535.
func part(x, low, high float64) uint16 {
	if high <= low {
		return 0
	}
	return uint16(math.Round(math.Min(1, math.Max(0, (x-low)/(high-low))) * 65535))
}
