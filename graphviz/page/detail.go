package page

import (
	"fmt"
	"math"

	"dryfit/kits/mesh"
)

// How many triangles a page shows: at rest, and while the model turns on a
// machine without graphics hardware, which draws about two million triangles a
// second on two cores. Larger models are shown in less detail, and the page says
// so.
const (
	maxTriangles     = 500_000
	turningTriangles = 20_000
)

// grains are the sizes of detail below which corners are merged, in steps of half an
// octave: at rest and while the model turns. Step 0 is full detail.
type grains struct{ rest, turning int }

func grainsOf(meshes []*mesh.Mesh) grains {
	return grains{grainStep(meshes, maxTriangles), grainStep(meshes, turningTriangles)}
}

// name is the name of a mesh's shape, made from everything its content depends
// on.
func (g grains) name(m *mesh.Mesh) string {
	return fmt.Sprintf("%s-%d-%d", m.Hash, g.rest, g.turning)
}

// grain is the size of a step in mm.
func grain(step int) float64 {
	if step == 0 {
		return 0
	}
	return 0.01 * math.Exp2(float64(step)/2)
}

// grainStep is the finest step at which meshes keep about the given number of
// triangles. A surface keeps 1 to 3 triangles per square of a cell's edge, as
// measured on the demonstration kit and on rings.
func grainStep(meshes []*mesh.Mesh, most int) int {
	const maxStep = 60 // ten kilometres
	for step := range maxStep {
		g, n := grain(step), 0.0
		for _, m := range meshes {
			if g == 0 {
				n += float64(m.Len())
			} else {
				n += math.Min(float64(m.Len()), 2*m.Area/(g*g))
			}
		}
		if n <= float64(most) {
			return step
		}
	}
	return maxStep
}
