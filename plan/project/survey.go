package project

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"sync"
	"sync/atomic"

	"dryfit/kits"
	"dryfit/kits/geom"
	"dryfit/kits/mesh"
	"dryfit/kits/mesh/files"
	"dryfit/kits/plain"
	"dryfit/plan"
	"dryfit/plan/blocking"
)

// Survey is the meshes of a kit, or of a folder without a kit, and what was
// measured of them.
type Survey struct {
	mesh.Collection
	Model *blocking.Model

	kit      *kits.Kit // nil for meshes alone
	path     string    // of the meshes
	options  Options
	before   *blocking.Known         // what was measured before; nil for nothing
	known    map[string]*mesh.Health // by content
	health   sync.Mutex              // of Health and known, while meshes are examined
	examined struct {
		done, of int
		telling  atomic.Bool // it is what is left to do
	}
	onePlace  [][]int        // pieces that stand in the same place, and were not measured
	unmatched []plan.Finding // pieces without a mesh, and meshes without a piece
}

// SurveyKit measures the meshes of a kit, which must name some.
func SurveyKit(ctx context.Context, k *kits.Kit, o Options) (*Survey, error) {
	s, toward, err := openKit(k, o)
	if err != nil {
		return nil, err
	}
	return s, s.measure(ctx, toward)
}

// openKit reads the meshes of a kit, and the directions of its joins.
func openKit(k *kits.Kit, o Options) (s *Survey, toward []geom.Vec, err error) {
	if k.Meshes == "" {
		return nil, nil, fmt.Errorf("%s names no meshes; add meshes: with the folder that holds them", kits.Plain(k.File))
	}
	o.Unit = k.Unit.MM
	if o.Fit == 0 {
		o.Fit = k.Fit
	}
	s = &Survey{kit: k, path: filepath.Join(filepath.Dir(k.File), k.Meshes), options: o}
	all, single, err := s.open()
	if err != nil {
		return nil, nil, err
	}
	s.Pieces, s.Aside, s.unmatched = match(k, all, single)
	if o.Read != nil {
		o.Read(s.Pieces)
	}
	for _, p := range k.Pieces {
		s.IDs = append(s.IDs, p.ID)
	}
	s.recall()
	for _, j := range k.Joins {
		if j.Toward != nil {
			toward = append(toward, *j.Toward)
		}
	}
	return s, toward, nil
}

// SurveyMeshes measures the meshes of a folder or a file without a kit.
func SurveyMeshes(ctx context.Context, path string, o Options) (*Survey, error) {
	s := &Survey{path: path, options: o}
	all, _, err := s.open()
	if err != nil {
		return nil, err
	}
	s.IDs, s.Pieces = pieceIDs(all), all
	s.recall()
	return s, s.measure(ctx, nil)
}

// open reads the meshes; single means that all are in one file.
func (s *Survey) open() (all []*mesh.Mesh, single bool, err error) {
	if s.options.Measuring != nil {
		s.options.Measuring()
	}
	s.options.tell("reading meshes", 0)
	info, err := os.Stat(s.path)
	switch o := (files.Options{Unit: s.options.Unit}); {
	case errors.Is(err, os.ErrNotExist):
		return nil, false, fmt.Errorf("%s: no such folder or file of meshes", kits.Plain(s.path))
	case err != nil:
		return nil, false, plain.PathError(err)
	case info.IsDir():
		all, err = files.OpenFolder(s.path, o)
		return all, false, err
	default:
		all, err = files.Open(s.path, o)
		return all, true, err
	}
}

// recall reads what was measured before. What cannot be read is measured anew.
func (s *Survey) recall() {
	s.before, s.known = nil, map[string]*mesh.Health{}
	if s.options.Fresh {
		return
	}
	if k, err := unpack(s.entry().Read()); err == nil {
		s.before, s.known = k.known, k.health
	}
}

// measure measures what the cache does not know. toward are directions to measure
// besides those that the shapes suggest.
func (s *Survey) measure(ctx context.Context, toward []geom.Vec) (err error) {
	settings := blocking.Settings{Pitch: s.options.Pitch, Toward: toward, Fit: s.options.Fit, Known: s.before, Tell: s.options.tell}
	apart, err := s.setAside(ctx)
	if err != nil {
		return err
	}
	if s.options.Memory > 0 && !settings.Known.All(apart) {
		if err := blocking.Within(s.options.Memory, apart, settings); err != nil {
			return err
		}
	}
	s.Model, err = blocking.Measure(ctx, apart, settings)
	if err != nil && s.Model != nil && (settings.Known == nil || len(s.Model.Directions) >= 2*len(settings.Known.Axes)) {
		s.Store() // the next run goes on from there
	}
	return err
}

// Store saves the measurements for the next time.
func (s *Survey) Store() {
	c := &kept{s.Model.Known(), map[string]*mesh.Health{}}
	s.health.Lock()
	for _, m := range s.Pieces {
		if h := s.known[keyOf(m)]; h != nil {
			c.health[keyOf(m)] = h
		}
	}
	s.health.Unlock()
	data, err := c.pack()
	if err == nil {
		err = s.entry().Write(data)
	}
	if err != nil {
		s.options.warn("measurements could not be saved: " + err.Error())
	}
}
