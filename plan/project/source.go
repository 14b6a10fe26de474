package project

import "dryfit/kits/mesh"

// Mesh is the mesh of a piece, or of a copy of what is printed but never in the model;
// nil if it has none.
func (s *Survey) Mesh(piece string) *mesh.Mesh {
	if i, known := s.number()[piece]; known {
		if m := s.Meshes[i]; m.Len() > 0 {
			return m
		}
		return nil
	}
	return s.Aside[piece]
}

// Hollows is how many sealed hollows were found in the mesh of a piece when its health
// was looked at; that of tooling and spares is not.
func (s *Survey) Hollows(piece string) int {
	i, known := s.number()[piece]
	if !known {
		return 0
	}
	h := s.health[keyOf(s.Meshes[i])]
	if h == nil {
		return 0
	}
	n := 0
	for _, p := range h.Problems {
		if p.Kind == mesh.Hollow {
			n += p.Count
		}
	}
	return n
}

// Health is what was found when the mesh of a piece was looked at; nil if it was not.
func (s *Survey) Health(piece string) *mesh.Health {
	if i, known := s.number()[piece]; known {
		return s.health[keyOf(s.Meshes[i])]
	}
	return nil
}

// number finds pieces by id.
func (s *Survey) number() map[string]int {
	if s.numbers == nil {
		s.numbers = make(map[string]int, len(s.IDs))
		for i, id := range s.IDs {
			s.numbers[id] = i
		}
	}
	return s.numbers
}
