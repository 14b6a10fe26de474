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
	"dryfit/plan"
)

// Check reads and checks the kit that a page shows. It gives the meshes to read before
// it looks at them, which may take long.
type Check func(ctx context.Context, read func([]*mesh.Mesh)) (*plan.Project, error)

// state is what the page shows now: the last good model, and what is wrong since.
type state struct {
	mu      sync.RWMutex
	model   []byte // JSON; null until the kit could be read once
	trouble []string
	shapes  map[string]Shape
	lines   map[string]bool // of last calls
	make    Maker
	extras  *extras
	stop    context.CancelFunc // ends what is being made for them; nil for none
	number  int                // counts changes of what is shown
	tag     string             // names the model as it is shown

	report *plan.Project // of the last check that could be made
	meshes []*mesh.Mesh
}

// refresh checks the kit again. When it cannot be read the last good model stays, and
// the trouble is told, each with its place in the file. changed is called when there is
// something new to show: other meshes are shown before they are checked.
func (s *state) refresh(ctx context.Context, check Check, changed func()) {
	good, goodTag, goodShapes := s.model, s.tag, s.known()
	rep, err := check(ctx, func(read []*mesh.Mesh) {
		if s.preview(read) {
			changed()
		}
	})
	defer changed()
	var m *Model
	var meshes []*mesh.Mesh
	var shapes map[string]Shape
	if err == nil {
		meshes = rep.Meshes.All()
		m, shapes, err = build(rep, meshes, s.known())
	}
	var model []byte
	if err == nil {
		model, err = json.Marshal(m)
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	s.number++
	if err != nil {
		s.model, s.tag, s.shapes, s.trouble = good, goodTag, goodShapes, troubles(err)
		return
	}
	s.set(model, shapes)
	s.trouble, s.lines = nil, map[string]bool{}
	s.report, s.meshes = rep, meshes
	if s.stop != nil {
		s.stop() // nobody waits any longer for plans of what was
	}
	ctx, s.stop = context.WithCancel(ctx)
	s.extras = newExtras(ctx, s.make, rep)
	for _, step := range m.Steps {
		for _, call := range step.LastCall {
			s.lines[Line(step, call)] = true
		}
	}
}

// preview shows the last report with meshes that are not checked yet, if there are
// others among them and all are of the same pieces.
func (s *state) preview(meshes []*mesh.Mesh) bool {
	same := func(a, b *mesh.Mesh) bool { return a.Hash == b.Hash && a.Name == b.Name }
	alike := func(a, b *mesh.Mesh) bool { return a.Name == b.Name && (a.Len() == 0) == (b.Len() == 0) }
	if s.report == nil || slices.EqualFunc(s.meshes, meshes, same) || !slices.EqualFunc(s.meshes, meshes, alike) {
		return false
	}
	m, shapes, err := build(s.report, meshes, s.known())
	if err != nil {
		return false // the check will meet it too, and tell
	}
	m.Unchecked = true
	model, err := json.Marshal(m)
	if err != nil {
		return false
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	s.number++
	s.set(model, shapes)
	return true
}

// set shows a model. A kit that has changed has another tag even if its model is the
// same: plates depend on more than that.
func (s *state) set(model []byte, shapes map[string]Shape) {
	s.model, s.shapes = model, shapes
	s.tag = fmt.Sprintf("%.8x-%d", sha256.Sum256(model), s.number)
}

func troubles(err error) []string {
	var faults kits.Faults
	if !errors.As(err, &faults) {
		return []string{kits.Plain(err.Error())}
	}
	var list []string
	for _, f := range faults {
		list = append(list, f.Error())
	}
	return list
}

// known are the shapes that there are already.
func (s *state) known() map[string]Shape {
	s.mu.RLock()
	defer s.mu.RUnlock()
	return s.shapes
}

func (s *state) extra() *extras {
	s.mu.RLock()
	defer s.mu.RUnlock()
	return s.extras
}

// build makes the model of a report and its shapes, as far as they are not known.
func build(rep *plan.Project, meshes []*mesh.Mesh, known map[string]Shape) (*Model, map[string]Shape, error) {
	g := grainsOf(meshes)
	m := newModel(rep, meshes, g)
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

// json is the state as the page asks for it, with what was ticked off, or why that
// cannot be read. The model is left out if the page has the one of that tag.
func (s *state) json(have string, ticked []string, err error) []byte {
	s.mu.RLock()
	defer s.mu.RUnlock()
	model := json.RawMessage(s.model)
	if model == nil || have == s.tag {
		model = json.RawMessage("null")
	}
	trouble := s.trouble
	if err != nil {
		trouble = append(trouble[:len(trouble):len(trouble)], troubles(err)...)
	}
	data, err := json.Marshal(struct {
		Number  int             `json:"number"`
		Tag     string          `json:"tag"`
		Model   json.RawMessage `json:"model"`
		Trouble []string        `json:"trouble"`
		Ticked  []string        `json:"ticked"`
	}{s.number, s.tag, model, trouble, ticked})
	if err != nil {
		panic(err) // what was JSON before is JSON still
	}
	return data
}

// maxBatch is how many shapes can be asked for at a time, as in the page.
const maxBatch = 64

// batch gives the shapes of some names, separated by commas, each after its length in
// bytes as a number of 32 bits, little endian. It is nil if one of them is not there.
func (s *state) batch(names string) []byte {
	s.mu.RLock()
	defer s.mu.RUnlock()
	list := strings.Split(names, ",")
	if len(list) > maxBatch {
		return nil
	}
	var out []byte
	for _, n := range list {
		shape := s.shapes[n]
		if shape == nil {
			return nil
		}
		out = binary.LittleEndian.AppendUint32(out, uint32(len(shape)))
		out = append(out, shape...)
	}
	return out
}
