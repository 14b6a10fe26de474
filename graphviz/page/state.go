package page

import (
	"context"
	"crypto/sha256"
	"encoding/binary"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"
	"sync"

	"dryfit/kits"
	"dryfit/kits/mesh"
	"dryfit/kits/plain"
	"dryfit/kits/progress"
	"dryfit/plan"
)

// loadFunc loads the kit that a page shows. It passes the meshes to read before
// measuring them, which may be slow.
type loadFunc func(ctx context.Context, read func([]*mesh.Mesh)) (*plan.Project, error)

// view is a model with its shapes.
type view struct {
	model  []byte // JSON; null until the kit could be read once
	shapes map[string]Shape
	tag    string // names it
}

// state is what the page shows now: the last good model, and any faults since.
type state struct {
	mu      sync.RWMutex
	now     view // the last good model, or a preview with meshes not measured yet
	status  status
	trouble []string
	calls   []callLine // the lines of all last calls
	make    Maker
	extras  *extras
	stop    context.CancelFunc // ends the making of extras; nil for none
	number  int                // counts changes of what is shown

	project *plan.Project // as last loaded without an error
	meshes  []*mesh.Mesh  // of the project
}

// refresh loads the kit again. If it cannot be read, the last good model stays,
// and the faults are shown with their positions in the file. What was cancelled,
// or read from files that are no longer the same, is dropped. changed is called
// when there is something new to show: changed meshes are shown before they are
// measured.
func (s *state) refresh(ctx context.Context, load loadFunc, unchanged func() bool, changed func()) {
	good := s.now
	defer changed()
	p, err := load(ctx, func(read []*mesh.Mesh) {
		if ctx.Err() == nil && s.preview(read) {
			changed()
		}
	})
	var m *Model
	var meshes []*mesh.Mesh
	var next view
	if err == nil {
		meshes = p.Meshes.All()
		m, next.shapes, err = build(p, meshes, s.known())
	}
	if err == nil {
		next.model, err = json.Marshal(m)
	}
	same := unchanged()
	s.mu.Lock()
	defer s.mu.Unlock()
	s.number++
	switch {
	case ctx.Err() != nil || !same:
		s.show(good)
		if s.status.Phase == checking {
			s.enter(outdated)
		}
		return
	case err != nil:
		s.show(good)
		s.trouble = troubles(err)
		s.enter(broken)
		return
	}
	s.set(next)
	s.trouble, s.calls = nil, nil
	s.project, s.meshes = p, meshes
	s.enter(current)
	if s.stop != nil {
		s.stop() // plans of the old state are no longer needed
	}
	// Plans outlive the check: a later one may find that the files cannot be read.
	ctx, s.stop = context.WithCancel(context.WithoutCancel(ctx))
	s.extras = newExtras(ctx, s.make, p)
	for _, step := range m.Steps {
		s.calls = append(s.calls, step.LastCall...)
	}
}

// end ends the making of extras.
func (s *state) end() {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.stop != nil {
		s.stop()
	}
}

// preview shows the last project with meshes that are not measured yet, if some
// changed and all belong to the same pieces.
func (s *state) preview(meshes []*mesh.Mesh) bool {
	same := func(a, b *mesh.Mesh) bool { return a.Hash == b.Hash && a.Name == b.Name }
	alike := func(a, b *mesh.Mesh) bool { return a.Name == b.Name && (a.Len() == 0) == (b.Len() == 0) }
	if s.project == nil || slices.EqualFunc(s.meshes, meshes, same) || !slices.EqualFunc(s.meshes, meshes, alike) {
		return false
	}
	m, shapes, err := build(s.project, meshes, s.known())
	if err != nil {
		return false // loading will meet it too, and report it
	}
	m.Unchecked = true
	model, err := json.Marshal(m)
	if err != nil {
		return false
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	s.number++
	s.set(view{model: model, shapes: shapes})
	return true
}

// set shows a model. Each change of the kit has its own tag, even if the model is
// the same: plates depend on more than the model.
func (s *state) set(v view) {
	v.tag = fmt.Sprintf("%.8x-%d", sha256.Sum256(v.model), s.number)
	s.show(v)
}

func (s *state) show(v view) {
	s.now = v
	s.status.Version++
}

func troubles(err error) []string {
	var faults kits.Faults
	if !errors.As(err, &faults) {
		return strings.Split(plain.Lines(err.Error()), "\n")
	}
	var list []string
	for _, f := range faults {
		list = append(list, f.Error())
	}
	return list
}

// known are the shapes made so far.
func (s *state) known() map[string]Shape {
	s.mu.RLock()
	defer s.mu.RUnlock()
	return s.now.shapes
}

func (s *state) extra() *extras {
	s.mu.RLock()
	defer s.mu.RUnlock()
	return s.extras
}

// build makes the model of a project, and those of its shapes that do not exist
// yet.
func build(p *plan.Project, meshes []*mesh.Mesh, known map[string]Shape) (*Model, map[string]Shape, error) {
	g := grainsOf(meshes)
	m := newModel(p, meshes, g)
	shapes := map[string]Shape{}
	var names []string // of shapes to be made
	var from []*mesh.Mesh
	for _, x := range meshes {
		name := g.name(x)
		if _, there := shapes[name]; there || x.Len() == 0 {
			continue
		}
		shapes[name] = known[name]
		if known[name] == nil {
			names, from = append(names, name), append(from, x)
		}
	}
	made, err := newShapes(from, g)
	if err != nil {
		return nil, nil, err
	}
	for i, name := range names {
		shapes[name] = made[i]
	}
	return m, shapes, nil
}

// call finds a line of a last call by its id.
func (s *state) call(id string) (callLine, bool) {
	s.mu.RLock()
	defer s.mu.RUnlock()
	i := slices.IndexFunc(s.calls, func(c callLine) bool { return c.ID == id })
	if i < 0 {
		return callLine{}, false
	}
	return s.calls[i], true
}

// ticked lists the ids that a progress file says are ticked off; nil if there is
// none.
func (s *state) ticked(f *progress.File) []string {
	if f == nil {
		return nil
	}
	list := []string{}
	for _, c := range s.calls {
		if f.IsTicked(c.ID) || f.IsTicked(c.sentence) {
			list = append(list, c.ID)
		}
	}
	return list
}

// json is the state as the page requests it, with what is ticked off, or why that
// cannot be read. The model is left out if the page already has the one with that
// tag.
func (s *state) json(have string, f *progress.File, err error) []byte {
	s.mu.RLock()
	defer s.mu.RUnlock()
	model := json.RawMessage(s.now.model)
	if model == nil || have == s.now.tag {
		model = json.RawMessage("null")
	}
	trouble := s.trouble
	if err != nil {
		trouble = append(trouble[:len(trouble):len(trouble)], troubles(err)...)
	}
	data, err := json.Marshal(struct {
		Status  status          `json:"status"`
		Model   json.RawMessage `json:"model"`
		Trouble []string        `json:"trouble"`
		Ticked  []string        `json:"ticked"`
	}{s.statusNow(), model, trouble, s.ticked(f)})
	if err != nil {
		panic(err) // the model is JSON already
	}
	return data
}

// maxBatch is how many shapes one request may ask for, as in the page.
const maxBatch = 64

// batch gives the shapes of names separated by commas, each after its length in bytes as a
// 32-bit number, little endian. It is nil if one of them is missing.
func (s *state) batch(names string) []byte {
	s.mu.RLock()
	defer s.mu.RUnlock()
	list := strings.Split(names, ",")
	if len(list) > maxBatch {
		return nil
	}
	var out []byte
	for _, n := range list {
		shape := s.now.shapes[n]
		if shape == nil {
			return nil
		}
		out = binary.LittleEndian.AppendUint32(out, uint32(len(shape)))
		out = append(out, shape...)
	}
	return out
}
