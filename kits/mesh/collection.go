package mesh

import (
	"sync"

	"dryfit/kits/geom"
)

// Collection is the meshes of a kit: those of its pieces in assembled position,
// and those of tooling and spares, which are printed but are not in the model. A
// nil collection stands for a kit without meshes.
type Collection struct {
	IDs    []string         // of the pieces
	Pieces []*Mesh          // by piece; empty meshes for pieces without one
	Aside  map[string]*Mesh // of tooling and spares, by the ids of the copies
	Health []*Health        // by piece; nil where nothing was examined

	index   sync.Once
	numbers map[string]int // piece by id
}

// Hashes are those of the content of each mesh.
func Hashes(list []*Mesh) (all [][]byte) {
	for _, m := range list {
		all = append(all, m.Hash[:])
	}
	return all
}

// All lists the meshes by piece; nil for a kit without meshes.
func (c *Collection) All() []*Mesh {
	if c == nil {
		return nil
	}
	return c.Pieces
}

// Mesh is the mesh of a piece, or of a copy of what is printed but never in the model;
// nil if it has none.
func (c *Collection) Mesh(id string) *Mesh {
	if c == nil {
		return nil
	}
	m := c.Aside[id]
	if i, known := c.number(id); known {
		m = c.Pieces[i]
	}
	if m == nil || m.Len() == 0 {
		return nil
	}
	return m
}

// HealthOf is the result of examining the mesh of a piece; nil if it was not
// examined, as with tooling and spares.
func (c *Collection) HealthOf(id string) *Health {
	if c == nil || c.Health == nil {
		return nil
	}
	if i, known := c.number(id); known {
		return c.Health[i]
	}
	return nil
}

// Hollows is the number of sealed hollows found in the mesh of a piece.
func (c *Collection) Hollows(id string) int {
	h := c.HealthOf(id)
	if h == nil {
		return 0
	}
	n := 0
	for _, p := range h.Problems {
		if p.Kind == Hollow {
			n += p.Count
		}
	}
	return n
}

// Scaled is the collection with every mesh scaled by a factor about the origin, except those
// that keep their size, which are moved. Health is unchanged.
func (c *Collection) Scaled(by float64, moved func(id string) (by geom.Vec, keeps bool)) *Collection {
	if c == nil {
		return nil
	}
	scale := func(id string, m *Mesh) *Mesh {
		if m.Len() == 0 {
			return m
		}
		if move, keeps := moved(id); keeps {
			return m.Moved(move)
		}
		return m.Scaled(by)
	}
	out := &Collection{IDs: c.IDs, Pieces: make([]*Mesh, len(c.Pieces)), Aside: map[string]*Mesh{}, Health: c.Health}
	for i, m := range c.Pieces {
		out.Pieces[i] = scale(c.IDs[i], m)
	}
	for id, m := range c.Aside {
		out.Aside[id] = scale(id, m)
	}
	return out
}

// number finds a piece by its id.
func (c *Collection) number(id string) (int, bool) {
	c.index.Do(func() {
		c.numbers = make(map[string]int, len(c.IDs))
		for i, id := range c.IDs {
			c.numbers[id] = i
		}
	})
	i, known := c.numbers[id]
	return i, known
}
