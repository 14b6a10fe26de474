package meshtest

import (
	"maps"
	"slices"

	"dryfit/kits/mesh"
)

// Collection is a collection of the given meshes, by the ids of their pieces; nil for
// none. Health may be nil, or lack some of them.
func Collection(meshes map[string]*mesh.Mesh, health map[string]*mesh.Health) *mesh.Collection {
	if meshes == nil {
		return nil
	}
	c := &mesh.Collection{}
	for _, id := range slices.Sorted(maps.Keys(meshes)) {
		c.IDs, c.Pieces, c.Health = append(c.IDs, id), append(c.Pieces, meshes[id]), append(c.Health, health[id])
	}
	return c
}
