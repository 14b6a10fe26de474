package project

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"dryfit/kits"
	"dryfit/kits/geom"
	"dryfit/kits/mesh"
	"dryfit/kits/mesh/files"
	"dryfit/plan"
	"dryfit/plan/blocking"
	"dryfit/plan/explain"
)

// Survey is what was measured of meshes.
type Survey struct {
	mesh.Collection
	Model *blocking.Model

	path    string                  // of the meshes
	known   map[string]*mesh.Health // by content
	kit     *kits.Kit               // nil for meshes alone
	options Options
}

// measured checks a kit that names meshes with all that they say.
func measured(ctx context.Context, k *kits.Kit, o Options) (*plan.Project, *Survey, error) {
	if o.Measuring != nil {
		o.Measuring()
	}
	s, findings, err := ofKit(ctx, k, o)
	if err != nil {
		return nil, nil, err
	}
	g := s.geometry()
	openings, err := s.openingFindings(ctx, k)
	if err != nil {
		return nil, nil, err
	}
	if err := s.examine(ctx); err != nil {
		return nil, nil, err
	}
	g.Findings = append(append(findings, openings...), s.turnedFindings()...)
	g.Findings = append(g.Findings, s.healthFindings(k, false)...)
	p, err := explain.CheckMeasured(k, g)
	if err != nil {
		return nil, nil, err
	}
	if p, err = s.furtherWays(ctx, k, g, p); err != nil {
		return nil, nil, err
	}
	p.Meshes = &s.Collection
	s.keep()
	return p, s, nil
}

// ofKit measures the pieces of a kit. The findings say what is wrong with its
// meshes.
func ofKit(ctx context.Context, k *kits.Kit, o Options) (*Survey, []plan.Finding, error) {
	o.Unit = k.Unit.MM
	path := filepath.Join(filepath.Dir(k.File), k.Meshes)
	all, err := open(path, o)
	if err != nil {
		return nil, nil, err
	}
	info, err := os.Stat(path)
	if err != nil {
		return nil, nil, err
	}
	meshes, aside, findings := assign(k, all, !info.IsDir())
	if o.Read != nil {
		o.Read(meshes)
	}
	s := &Survey{Collection: mesh.Collection{Pieces: meshes, Aside: aside}, path: path, options: o, kit: k}
	for _, p := range k.Pieces {
		s.IDs = append(s.IDs, p.ID)
	}
	var toward []geom.Vec
	for _, j := range k.Joins {
		if j.Toward != nil {
			toward = append(toward, *j.Toward)
		}
	}
	return s, findings, s.look(ctx, toward)
}

// look measures, as far as it is not known from before.
func (s *Survey) look(ctx context.Context, toward []geom.Vec) error {
	o := s.options
	settings := blocking.Settings{Pitch: o.Pitch, Toward: toward, Progress: func(x float64) { o.tell("looking who is in whose way", x) }}
	if !o.Fresh {
		known, health, trouble := recall(cacheFile(s.path))
		o.warn(trouble)
		settings.Known, s.known = known, health
	}
	if s.known == nil {
		s.known = map[string]*mesh.Health{}
	}
	var err error
	s.Model, err = blocking.Measure(ctx, s.Pieces, settings)
	return err
}

// keep stores what was measured beside the meshes, for the next time.
func (s *Survey) keep() {
	health := map[string]*mesh.Health{}
	for _, m := range s.Pieces {
		if h := s.known[keyOf(m)]; h != nil {
			health[keyOf(m)] = h
		}
	}
	if err := keep(cacheFile(s.path), s.Model.Known(), health); err != nil {
		s.options.warn("the measurements are not kept: " + err.Error())
	}
}

// ofMeshes measures the meshes of a folder or a file of their own.
func ofMeshes(ctx context.Context, path string, o Options) (*Survey, error) {
	all, err := open(path, o)
	if err != nil {
		return nil, err
	}
	s := &Survey{Collection: mesh.Collection{IDs: pieceIDs(all), Pieces: all}, path: path, options: o}
	return s, s.look(ctx, nil)
}

func open(path string, o Options) ([]*mesh.Mesh, error) {
	o.tell("reading meshes", 0)
	info, err := os.Stat(path)
	if errors.Is(err, os.ErrNotExist) {
		return nil, fmt.Errorf("%s: there is no such folder or file of meshes", kits.Plain(path))
	}
	if err != nil {
		return nil, err
	}
	if info.IsDir() {
		return files.OpenFolder(path, files.Options{Unit: o.Unit})
	}
	return files.Open(path, files.Options{Unit: o.Unit})
}

// assign finds the mesh of each piece: by the file that its part names, by its id,
// or by the designer's number; also of jigs, spares and the like, which may have none.
// single says that all are in one file.
func assign(k *kits.Kit, all []*mesh.Mesh, single bool) (meshes []*mesh.Mesh, aside map[string]*mesh.Mesh, findings []plan.Finding) {
	byName := map[string]int{}
	ids := pieceIDs(all)
	for i, m := range all {
		byName[m.Name] = i
	}
	for i, id := range ids {
		if _, taken := byName[id]; !taken {
			byName[id] = i
		}
	}
	used := make([]bool, len(all))
	meshes = make([]*mesh.Mesh, len(k.Pieces))
	var without []string
	for p, pc := range k.Pieces {
		i, found := find(byName, pc)
		if !found {
			meshes[p], _ = mesh.FromTriangles(pc.ID, nil)
			if pc.Part.Bought || pc.Part.Made {
				without = append(without, pc.ID)
				continue
			}
			findings = append(findings, plan.Finding{Kind: plan.Meshes, Grade: plan.Fault, Piece: pc.ID, Text: missing(k, pc, single),
				Because: []plan.Reason{{Text: "part " + pc.Part.ID, At: pc.Part.Pos.String()}}})
			continue
		}
		used[i] = true
		meshes[p] = all[i]
	}
	aside = map[string]*mesh.Mesh{}
	others, _ := k.Aside() // what is too much to print has no meshes either
	for _, pc := range others {
		if i, found := find(byName, pc); found && pc.Copy > 0 {
			used[i] = true
			aside[pc.ID] = all[i]
		}
	}
	if len(without) > 0 {
		findings = append(findings, plan.Finding{Kind: plan.Meshes, Grade: plan.Note,
			Text: fmt.Sprintf("not printed and without a mesh, so in nobody's way: %s", strings.Join(without, ", "))})
	}
	for i, m := range all {
		if !used[i] {
			findings = append(findings, plan.Finding{Kind: plan.Meshes, Grade: plan.Caution,
				Text: fmt.Sprintf("no piece of the kit has the mesh %s (%s): rename it after its piece, or add the part", kits.Plain(m.Name), kits.Plain(filepath.Base(m.File)))})
		}
	}
	return meshes, aside, findings
}

// missing says that a piece has no mesh, and where it is looked for.
func missing(k *kits.Kit, p kits.Piece, single bool) string {
	switch {
	case p.Part.Mesh != "":
		return fmt.Sprintf("%s has no mesh: %s, which its part names, is not in %s", p.ID, kits.Plain(p.Part.Mesh), kits.Plain(k.Meshes))
	case single:
		return fmt.Sprintf("%s has no mesh: %s has no object of that name; add it, or name another with mesh: on the part", p.ID, kits.Plain(k.Meshes))
	}
	return fmt.Sprintf("%s has no mesh in %s; save it there in assembled position as a file of that name ending in .stl, .3mf or .obj, or name its file with mesh: on the part", p.ID, kits.Plain(k.Meshes))
}

func find(byName map[string]int, p kits.Piece) (int, bool) {
	ending := ""
	if p.Part.Quantity > 1 {
		ending = fmt.Sprintf(".%d", p.Copy)
	}
	if f := p.Part.Mesh; f != "" {
		// A file that is named must be there; nothing else will do.
		stem := filepath.Base(f)
		if e := strings.ToLower(filepath.Ext(stem)); e == ".stl" || e == ".3mf" || e == ".obj" {
			stem = stem[:len(stem)-len(e)]
		}
		list := []string{stem + ending, fmt.Sprintf("%s-%d", stem, p.Copy)}
		if ending == "" {
			list = []string{stem, pieceID(stem)}
		}
		for _, n := range list {
			if i, found := byName[n]; found {
				return i, true
			}
		}
		return 0, false
	}
	var names []string
	names = append(names, p.ID, pieceID(p.ID))
	if p.Part.Number != "" {
		names = append(names, p.Part.Number+ending, pieceID(p.Part.Number+ending))
	}
	for _, n := range names {
		if i, found := byName[n]; found {
			return i, true
		}
	}
	return 0, false
}

// geometry turns what was measured into plain numbers.
func (s *Survey) geometry() *plan.Geometry {
	m := s.Model
	g := &plan.Geometry{
		Directions: m.Directions, InTheWay: m.InTheWay(), Resolution: 1.5 * m.Pitch, Near: m.Touch,
		Legs: map[int][]plan.Legs{}, Undercuts: map[int][]plan.Undercut{}, Hit: m.Distance,
	}
	for _, p := range m.Pieces {
		g.Measured = append(g.Measured, p.Len() > 0)
		g.Sizes = append(g.Sizes, p.Size())
	}
	for _, p := range m.Pairs {
		if p.Depth > 0 {
			g.Clashes = append(g.Clashes, plan.Clash{A: p.A, B: p.B, Depth: p.Depth, Volume: p.Volume})
		}
		g.Touching = append(g.Touching, plan.Touch{A: p.A, B: p.B, Contact: p.Contact, Gap: p.Gap})
	}
	return g
}

// maxSearches bounds the pieces that further ways are looked for: each takes a search.
const maxSearches = 24

// furtherWays looks for ways of several legs, then for ways past undercuts, for the
// pieces that no straight way is left to, and checks again with those it finds.
func (s *Survey) furtherWays(ctx context.Context, k *kits.Kit, g *plan.Geometry, rep *plan.Project) (*plan.Project, error) {
	for _, look := range []func(context.Context, plan.Stall, *plan.Geometry) (bool, error){s.legs, s.undercuts} {
		tried := map[int]bool{}
		for {
			found, cut := false, false
			for _, stall := range rep.Stalled() {
				if tried[stall.Piece] {
					continue
				}
				if len(tried) == maxSearches {
					cut = true
					break
				}
				tried[stall.Piece] = true
				way, err := look(ctx, stall, g)
				if err != nil {
					return nil, err
				}
				found = found || way
			}
			if cut {
				s.options.warn(fmt.Sprintf("so many pieces are blocked that further ways were looked for only for the first %d; mend those and check again", maxSearches))
			}
			if !found {
				break
			}
			var err error
			if rep, err = explain.CheckMeasured(k, g); err != nil {
				return nil, err
			}
		}
	}
	return rep, nil
}

// legs looks for a way of several legs, and reports whether there is one.
func (s *Survey) legs(ctx context.Context, stall plan.Stall, g *plan.Geometry) (bool, error) {
	legs, hits, err := s.Model.Legs(ctx, stall.Piece, stall.Others)
	if err != nil || legs == nil {
		return false, err
	}
	way := plan.Legs{}
	for _, l := range legs {
		way.Legs = append(way.Legs, geom.Leg{Toward: l.Toward, Distance: l.Distance})
	}
	for _, h := range hits {
		way.InTheWay = append(way.InTheWay, int32(h))
	}
	g.Legs[stall.Piece] = append(g.Legs[stall.Piece], way)
	return true, nil
}

// undercuts looks for directions past undercuts, and reports whether there are any.
func (s *Survey) undercuts(ctx context.Context, stall plan.Stall, g *plan.Geometry) (bool, error) {
	list, err := s.Model.Undercuts(ctx, stall.Piece, stall.Others, stall.Directions)
	for _, u := range list {
		way := plan.Undercut{Direction: u.Direction, Width: u.Width}
		for _, p := range u.Past {
			way.Past = append(way.Past, int32(p))
		}
		g.Undercuts[stall.Piece] = append(g.Undercuts[stall.Piece], way)
	}
	return len(list) > 0, err
}
