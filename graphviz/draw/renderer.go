package draw

import (
	"context"
	"encoding/binary"
	"math"
	"slices"
	"sync"

	"github.com/zeebo/xxh3"

	"dryfit/graphviz/picture"
	"dryfit/kits/geom"
	"dryfit/kits/mesh"
)

// Renderer takes pictures, or finds them in its album. It reads the meshes only when a
// picture is missing.
type Renderer struct {
	Cache  *Cache
	meshes []*mesh.Mesh // by piece; empty for one that has no mesh
	once   sync.Once
	model  *Model
	err    error
	mu     sync.Mutex // of the album
}

// NewRenderer is a renderer for the meshes of a kit, by the number of the piece.
func NewRenderer(meshes []*mesh.Mesh, album *Cache) *Renderer {
	return &Renderer{Cache: album, meshes: meshes}
}

// Has reports whether a piece has a mesh.
func (s *Renderer) Has(piece int) bool { return piece < len(s.meshes) && s.meshes[piece].Len() > 0 }

// manyTriangles is from how many on a kit is drawn in the detail that can be seen
// rather than in all of it.
const manyTriangles = 1 << 20

// finest is the part of the size of the whole kit that can still be seen.
const finest = 1.0 / 4000

// grain is how close corners of this kit are made one, in mm; 0 for only the same ones.
func (s *Renderer) grain() float64 {
	triangles := 0
	for _, m := range s.meshes {
		triangles += m.Len()
	}
	if triangles <= manyTriangles {
		return 0
	}
	return finest * s.size()
}

// size is about that of the whole kit: a piece that reaches a little farther out should
// not be a reason to draw all pictures again.
func (s *Renderer) size() float64 { return roundedDown(s.Bounds(every(len(s.meshes))).Length()) }

// set reads the meshes, once.
func (s *Renderer) set(ctx context.Context) (*Model, error) {
	s.once.Do(func() { s.model, s.err = s.read(ctx) })
	return s.model, s.err
}

func (s *Renderer) read(ctx context.Context) (*Model, error) {
	grain := s.grain()
	st := &Model{Bodies: make([]*Body, len(s.meshes))}
	for i, m := range s.meshes {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		if !s.Has(i) {
			continue
		}
		b, err := NewBody(m, grain)
		if err != nil {
			return nil, err
		}
		st.Bodies[i] = b
	}
	return st, nil
}

// Choose is [Model.Choose].
func (s *Renderer) Choose(ctx context.Context, scenes []Scene, start int, progress func(float64)) ([]Choice, error) {
	k := s.newKey("choose", start)
	k.numbers(s.size())
	for i := range scenes {
		s.scene(k, &scenes[i])
	}
	if c, ok := kept(s.Cache.was.Choices, s.Cache.is.Choices, k.text()); ok && len(c) == len(scenes) {
		return c, nil
	}
	st, err := s.set(ctx)
	if err != nil {
		return nil, err
	}
	c, err := st.Choose(ctx, scenes, start, progress)
	if err == nil {
		s.Cache.is.Choices[k.text()] = c
	}
	return c, err
}

// Take is [Model.Take]. It may be called from several goroutines.
func (s *Renderer) Render(ctx context.Context, scene *Scene, c Choice, before int, paper Paper) (Rendering, error) {
	k := s.newKey("take", c.View, before)
	k.numbers(paper.Width, paper.Height)
	k.numbers(c.Distance...)
	s.scene(k, scene)
	s.mu.Lock()
	t, ok := kept(s.Cache.was.Renderings, s.Cache.is.Renderings, k.text())
	s.mu.Unlock()
	if !ok || len(t.Away) > 0 && slices.Max(t.Away) >= len(scene.Still) {
		st, err := s.set(ctx)
		if err != nil {
			return Rendering{}, err
		}
		t = st.Render(scene, c, before, paper)
		t.Away = places(t.Away, scene.Still)
		s.mu.Lock()
		s.Cache.is.Renderings[k.text()] = t
		s.mu.Unlock()
	}
	away := make([]int, len(t.Away))
	for i, at := range t.Away {
		away[i] = scene.Still[at]
	}
	t.Away = away
	return t, nil
}

// places says of pieces where they stand in a list: numbers of pieces may be others
// when the album is read again.
func places(pieces, list []int) []int {
	out := make([]int, 0, len(pieces))
	for _, p := range pieces {
		for at, q := range list {
			if p == q {
				out = append(out, at)
			}
		}
	}
	return out
}

// Portrait is [Model.Portrait]; nil for pieces without meshes.
func (s *Renderer) Portrait(ctx context.Context, pieces []int, scale float64) (*picture.Picture, error) {
	k := s.newKey("portrait")
	k.numbers(scale)
	s.pieces(k, pieces)
	if p, ok := kept(s.Cache.was.Portraits, s.Cache.is.Portraits, k.text()); ok {
		return p, nil
	}
	st, err := s.set(ctx)
	if err != nil {
		return nil, err
	}
	p := st.Portrait(pieces, scale)
	if p != nil {
		s.Cache.is.Portraits[k.text()] = p
	}
	return p, nil
}

// Shadow is how wide and high pieces are on a portrait at full size, in mm, by their
// boxes: a little more than what is drawn.
func (s *Renderer) Shadow(pieces []int) (width, height float64) {
	out := noBox()
	for _, p := range pieces {
		if s.Has(p) {
			out = out.and(Views[0].boxShadow(boxOf(s.meshes[p])))
		}
	}
	if out.empty() {
		return 0, 0
	}
	return out.width(), out.height()
}

// Bounds is the size of all pieces together along the axes, in mm.
func (s *Renderer) Bounds(pieces []int) geom.Vec {
	var list []geom.Box
	for _, p := range pieces {
		if s.Has(p) {
			list = append(list, boxOf(s.meshes[p]))
		}
	}
	all, _ := bound(list)
	return all.Size()
}

func boxOf(m *mesh.Mesh) geom.Box { return geom.Box{Min: m.Min, Max: m.Max} }

// key names a picture by all that it follows from.
type key struct{ h *xxh3.Hasher }

func (s *Renderer) newKey(kind string, numbers ...int) *key {
	k := &key{xxh3.New()}
	k.word(kind)
	for _, n := range numbers {
		k.numbers(float64(n))
	}
	k.numbers(s.grain())
	return k
}

func (k *key) word(text string) {
	k.numbers(float64(len(text)))
	k.h.WriteString(text)
}

func (k *key) numbers(list ...float64) {
	var b [8]byte
	binary.LittleEndian.PutUint64(b[:], uint64(len(list)))
	k.h.Write(b[:])
	for _, v := range list {
		binary.LittleEndian.PutUint64(b[:], math.Float64bits(v))
		k.h.Write(b[:])
	}
}

func (k *key) text() string {
	s := k.h.Sum128().Bytes()
	return string(s[:])
}

// pieces adds the contents of meshes to a key, whatever their pieces are called.
func (s *Renderer) pieces(k *key, list []int) {
	k.numbers(float64(len(list)))
	for _, p := range list {
		if s.Has(p) {
			k.word(string(s.meshes[p].Hash[:]))
			k.numbers(s.meshes[p].Min[:]...)
		} else {
			k.word("")
		}
	}
}

func (s *Renderer) scene(k *key, scene *Scene) {
	s.pieces(k, scene.Still)
	s.pieces(k, scene.Onto)
	s.pieces(k, scene.Run)
	s.pieces(k, scene.Emphasis)
	for _, p := range scene.Emphasis {
		k.word(scene.Labels[p])
	}
	for _, m := range scene.Movers {
		k.word(m.Label)
		s.pieces(k, m.Pieces)
		for _, l := range m.Way {
			k.numbers(l.Toward[:]...)
			k.numbers(l.Distance)
		}
	}
}
