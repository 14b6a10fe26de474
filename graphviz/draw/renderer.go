package draw

import (
	"context"
	"slices"
	"sync"

	"dryfit/graphviz/picture"
	"dryfit/kits/geom"
	"dryfit/kits/mesh"
)

// Renderer draws scenes, or finds them in its cache. It reads the meshes only when a
// picture is missing.
type Renderer struct {
	Cache  *Cache
	meshes []*mesh.Mesh // by piece; empty for one that has no mesh
	once   sync.Once
	model  *Model
	err    error
	mu     sync.Mutex // of the cache
}

// NewRenderer is a renderer for the meshes of a kit, by the number of the piece.
func NewRenderer(meshes []*mesh.Mesh, cache *Cache) *Renderer {
	return &Renderer{Cache: cache, meshes: meshes}
}

// Has reports whether a piece has a mesh.
func (r *Renderer) Has(piece int) bool { return piece < len(r.meshes) && r.meshes[piece].Len() > 0 }

// manyTriangles is from how many on a kit is drawn in the detail that can be seen rather
// than in all of it.
const manyTriangles = 1 << 20

// finest is the part of the size of the whole kit that can still be seen.
const finest = 1.0 / 4000

// grain is how close corners of this kit are merged, in mm; 0 merges only equal ones.
func (r *Renderer) grain() float64 {
	triangles := 0
	for _, m := range r.meshes {
		triangles += m.Len()
	}
	if triangles <= manyTriangles {
		return 0
	}
	return finest * r.size()
}

// size is roughly that of the whole kit, in mm: a piece that reaches a little farther out
// should not cause all pictures to be drawn again.
func (r *Renderer) size() float64 { return roundedDown(r.Whole().Length()) }

// load reads the meshes, once.
func (r *Renderer) load(ctx context.Context) (*Model, error) {
	r.once.Do(func() { r.model, r.err = r.read(ctx) })
	return r.model, r.err
}

func (r *Renderer) read(ctx context.Context) (*Model, error) {
	grain := r.grain()
	model := &Model{Bodies: make([]*Body, len(r.meshes))}
	for i, m := range r.meshes {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		if !r.Has(i) {
			continue
		}
		b, err := NewBody(m, grain)
		if err != nil {
			return nil, err
		}
		model.Bodies[i] = b
	}
	return model, nil
}

// find looks a result up by its key in one of the cache's maps, and makes it if it is
// missing or not usable.
func find[V any](ctx context.Context, r *Renderer, k *key, was, is map[string]V, usable func(V) bool, draw func(*Model) (V, error)) (V, error) {
	r.mu.Lock()
	v, ok := kept(was, is, k.text())
	r.mu.Unlock()
	if ok && usable(v) {
		return v, nil
	}
	model, err := r.load(ctx)
	if err != nil {
		return *new(V), err
	}
	if v, err = draw(model); err == nil && usable(v) {
		r.mu.Lock()
		is[k.text()] = v
		r.mu.Unlock()
	}
	return v, err
}

// Choose is [Model.Choose], from the cache if it is there.
func (r *Renderer) Choose(ctx context.Context, scenes []Scene, start int, progress func(float64)) ([]Choice, error) {
	k := r.newKey("choose", start)
	k.numbers(r.size())
	for i := range scenes {
		r.addScene(k, &scenes[i])
	}
	return find(ctx, r, k, r.Cache.was.Choices, r.Cache.is.Choices,
		func(c []Choice) bool { return len(c) == len(scenes) },
		func(m *Model) ([]Choice, error) { return m.Choose(ctx, scenes, start, progress) })
}

// Render is [Model.Render], from the cache if it is there. It may be called from several
// goroutines.
func (r *Renderer) Render(ctx context.Context, scene *Scene, c Choice, before int, paper Paper) (Rendering, error) {
	k := r.newKey("take", c.View, before)
	k.numbers(paper.Width, paper.Height)
	k.numbers(c.Distance...)
	r.addScene(k, scene)
	out, err := find(ctx, r, k, r.Cache.was.Renderings, r.Cache.is.Renderings,
		func(t Rendering) bool { return len(t.Away) == 0 || slices.Max(t.Away) < len(scene.Still) },
		func(m *Model) (Rendering, error) {
			t := m.Render(scene, c, before, paper)
			t.Away = positions(t.Away, scene.Still)
			return t, nil
		})
	away := make([]int, len(out.Away))
	for i, at := range out.Away {
		away[i] = scene.Still[at]
	}
	out.Away = away
	return out, err
}

// positions says where pieces stand in a list: their numbers may be others when the cache
// is read again.
func positions(pieces, list []int) []int {
	out := make([]int, 0, len(pieces))
	for _, p := range pieces {
		out = append(out, slices.Index(list, p))
	}
	return out
}

// Portrait is [Model.Portrait], from the cache if it is there; nil for pieces without
// meshes.
func (r *Renderer) Portrait(ctx context.Context, pieces []int, scale float64) (*picture.Picture, error) {
	k := r.newKey("portrait")
	k.numbers(scale)
	r.addPieces(k, pieces)
	return find(ctx, r, k, r.Cache.was.Portraits, r.Cache.is.Portraits,
		func(p *picture.Picture) bool { return p != nil },
		func(m *Model) (*picture.Picture, error) { return m.Portrait(pieces, scale), nil })
}

// Shadow is how wide and high pieces are on a portrait at full size, in mm, by their
// boxes: a little more than what is drawn.
func (r *Renderer) Shadow(pieces []int) (width, height float64) {
	out := noBox()
	for _, p := range pieces {
		if r.Has(p) {
			out = out.and(Views[0].boxShadow(r.meshes[p].Box))
		}
	}
	if out.empty() {
		return 0, 0
	}
	return out.width(), out.height()
}

// Whole is the size of the model along the axes, in mm.
func (r *Renderer) Whole() geom.Vec { return r.Bounds(every(len(r.meshes))) }

// Bounds is the size of some pieces together along the axes, in mm.
func (r *Renderer) Bounds(pieces []int) geom.Vec {
	var list []geom.Box
	for _, p := range pieces {
		if r.Has(p) {
			list = append(list, r.meshes[p].Box)
		}
	}
	all, _ := bound(list)
	return all.Size()
}
