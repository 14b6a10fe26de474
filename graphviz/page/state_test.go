package page

import (
	"context"
	"encoding/json"
	"errors"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
	"dryfit/plan"
)

// TestPreview: another mesh is shown before it has been checked, and said to be so;
// what could not be checked is taken back.
func TestPreview(t *testing.T) {
	f := chest(t, "")
	var s state
	shown := func() *Model {
		m := new(Model)
		if err := json.Unmarshal(s.now.model, m); err != nil {
			t.Fatal(err)
		}
		return m
	}
	s.refresh(t.Context(), f.check, always, func() {})
	before := shown()
	if before.Unchecked {
		t.Error("what has been checked is said not to be")
	}

	writeMesh(t, filepath.Join(f.meshes(), "handle.stl"), meshtest.Cubes(meshtest.Cells("113 114"), 10))
	var seen []*Model
	trouble := errors.New("the mesh is out of all bounds")
	s.refresh(t.Context(), func(ctx context.Context, read func([]*mesh.Mesh)) (*plan.Project, error) {
		if _, err := f.check(ctx, read); err != nil {
			return nil, err
		}
		return nil, trouble
	}, always, func() { seen = append(seen, shown()) })
	if len(seen) != 2 || !seen[0].Unchecked || seen[1].Unchecked {
		t.Fatalf("%d changes: not checked at first, then back to what was", len(seen))
	}
	if was, is := before.Pieces[3], seen[0].Pieces[3]; is.ID != "handle" || is.Shape == was.Shape || is.Max[2] != was.Max[2]+10 {
		t.Errorf("the handle is shown as %+v, and was %+v", is, was)
	}
	if was, is := before.Pieces[3], seen[1].Pieces[3]; is.Shape != was.Shape || s.now.shapes[is.Shape] == nil {
		t.Errorf("the handle is shown as %+v after the trouble, and was %+v", is, was)
	}

	seen = nil
	s.refresh(t.Context(), f.check, always, func() { seen = append(seen, shown()) })
	if len(seen) != 2 || !seen[0].Unchecked || seen[1].Unchecked || seen[1].Pieces[3].Shape != seen[0].Pieces[3].Shape {
		t.Fatalf("%d changes: not checked, then checked", len(seen))
	}
	seen = nil
	f.edit(t, "kit: Chest", "kit: Great chest")
	s.refresh(t.Context(), f.check, always, func() { seen = append(seen, shown()) })
	if len(seen) != 1 || seen[0].Kit != "Great chest" {
		t.Errorf("%d changes of the kit file alone", len(seen))
	}
}

// TestBlockers: what is in the way of a trapped piece is known by what its reasons are
// about, not by the words in them: a piece called "asked" is not in the way of one that
// "is asked to come after" another.
func TestBlockers(t *testing.T) {
	f := newKit(t, `kit: Case
scale: "1:32"
parts:
  box: {name: Box}
  gem: {name: Gem}
  lid: {name: Lid}
  asked: {name: Label}
joins:
  - {fit: gem, to: box, with: ca, after: [lid]}
  - {fit: lid, to: box, with: ca}
  - {fit: asked, to: box, with: ca}
spaces:
  inside: {closed-by: [lid], holds: [gem]}
`, nil)
	rep, err := f.check(t.Context(), nil)
	if err != nil {
		t.Fatal(err)
	}
	m := newModel(rep, rep.Meshes.All(), grains{})
	gem := slices.IndexFunc(m.Pieces, func(p Piece) bool { return p.ID == "gem" })
	var by []string
	for _, p := range m.Pieces[gem].By {
		by = append(by, m.Pieces[p].ID)
	}
	if m.Pieces[gem].Stuck != "trapped" || !slices.Equal(by, []string{"lid"}) {
		t.Errorf("the gem is %q by %q", m.Pieces[gem].Stuck, by)
	}
}

// TestBlockersOnly: what a trapped piece is glued to is part of the conflict, but not in
// its way.
func TestBlockersOnly(t *testing.T) {
	f := newKit(t, `kit: Case
scale: "1:32"
parts:
  box: {name: Box}
  shelf: {name: Shelf}
  gem: {name: Gem}
  lid: {name: Lid}
joins:
  - {fit: shelf, to: box, with: ca, after: [lid]}
  - {fit: gem, to: shelf, with: ca}
  - {fit: lid, to: box, with: ca}
spaces:
  inside: {closed-by: [lid], holds: [gem]}
`, nil)
	p, err := f.check(t.Context(), nil)
	if err != nil {
		t.Fatal(err)
	}
	if !slices.ContainsFunc(p.Findings, func(f plan.Finding) bool {
		return slices.ContainsFunc(f.Because, func(r plan.Reason) bool { return slices.Contains(r.Pieces, "shelf") })
	}) {
		t.Fatal("no finding names the shelf: the test shows nothing")
	}
	m := newModel(p, nil, grains{})
	if gem := m.Pieces[2]; gem.Stuck != "trapped" || !slices.Equal(gem.By, []int{3}) {
		t.Errorf("the gem is %q by %v, want by the lid, 3, alone", gem.Stuck, gem.By)
	}
}

// TestInTheWay: only what is in the way counts as such, not what a finding names otherwise.
func TestInTheWay(t *testing.T) {
	for name, c := range map[string]struct{ text, piece, stuck, by string }{
		"a cycle has nothing in the way": {`kit: Ring
parts: {a: {}, b: {}, c: {}}
joins:
  - {fit: b, to: a, after: c}
  - {fit: c, to: a, after: b}
`, "b", "", ""},
		"a hatch too small": {`kit: Hatch
parts: {hull: {}, hatch: {}, stove: {size: [50, 50, 50]}}
joins:
  - {fit: hatch, to: hull}
  - {fit: stove, to: hull}
spaces:
  cabin: {closed-by: [{piece: hatch, opening: [20, 20]}], holds: stove}
`, "stove", plan.Unreachable, "hatch"},
		"a glued lid over what is to stay in reach": {`kit: Service
parts: {box: {}, shelf: {}, gem: {}, lid: {}}
joins:
  - {fit: shelf, to: box, with: ca}
  - {fit: gem, to: shelf, with: loose}
  - {fit: lid, to: box, with: ca}
spaces:
  inside: {closed-by: [lid], holds: [gem]}
service: [{reach: gem}]
`, "gem", plan.Serviceable, "lid"},
	} {
		t.Run(name, func(t *testing.T) {
			p, err := newKit(t, c.text, nil).check(t.Context(), nil)
			if err != nil {
				t.Fatal(err)
			}
			if p.OK() {
				t.Fatal("the kit has no fault: the test shows nothing")
			}
			m := newModel(p, nil, grains{})
			got := m.Pieces[slices.IndexFunc(m.Pieces, func(q Piece) bool { return q.ID == c.piece })]
			var by []string
			for _, q := range got.By {
				by = append(by, m.Pieces[q].ID)
			}
			if got.Stuck != c.stuck || strings.Join(by, " ") != c.by {
				t.Errorf("%s is %q by %q, want %q by %q", c.piece, got.Stuck, by, c.stuck, c.by)
			}
		})
	}
}

// TestTag: a page that has the model is not sent it again, and one that has an older one
// is; a change that the model does not show counts, for plates may; what cannot be read
// changes nothing. Plans of what was are ended.
func TestTag(t *testing.T) {
	f := timedChest(t)
	var s state
	var planning context.Context
	s.make.Plates = func(ctx context.Context, _ *plan.Project) (*Plates, error) {
		planning = ctx
		return new(Plates), nil
	}
	refresh := func() string {
		s.refresh(t.Context(), f.check, always, func() {})
		return s.now.tag
	}
	sent := func(have string) string {
		var got struct{ Model json.RawMessage }
		if err := json.Unmarshal(s.json(have, nil, nil), &got); err != nil {
			t.Fatal(err)
		}
		return string(got.Model)
	}
	first, model := refresh(), string(s.now.model)
	if sent(first) != "null" || sent("") != model || sent("x") != model {
		t.Error("the model is not sent when it should, or the other way round")
	}
	if _, err := s.extras.file("plates.json"); err != nil || planning.Err() != nil {
		t.Error(err, planning.Err())
	}
	f.edit(t, "volume: [100, 100, 100]", "volume: [100, 100")
	if got := refresh(); got != first || sent(first) != "null" || len(s.trouble) == 0 || planning.Err() != nil {
		t.Errorf("the tag of a kit that cannot be read is %s, was %s; trouble %q; plans %v", got, first, s.trouble, planning.Err())
	}
	f.edit(t, "volume: [100, 100", "volume: [100, 100, 200]")
	if got := refresh(); got == first || string(s.now.model) != model || sent(first) != model || planning.Err() == nil {
		t.Errorf("the tag with another printer is %s, was %s; plans %v", got, first, planning.Err())
	}
}

// TestCautions: the page shows the cautions of the kit, and each step those of its work.
func TestCautions(t *testing.T) {
	p, err := newKit(t, `kit: Hatch
parts: {hull: {}, hatch: {}, disc: {bought: true, name: Magnet}}
joins: [{fit: disc, to: hatch, with: epoxy}, {fit: hatch, to: hull, with: loose}]
`, nil).check(t.Context(), nil)
	if err != nil {
		t.Fatal(err)
	}
	m := newModel(p, nil, grains{})
	if text := strings.Join(m.Cautions, "\n"); !strings.Contains(text, "data sheets") || !strings.Contains(text, "WARNING. Small magnets") || strings.Contains(text, "Superglue") {
		t.Errorf("the kit: %s", text)
	}
	for _, s := range m.Steps {
		wants := 0
		if strings.Contains(s.Text, "Magnet") {
			wants = 2 // the magnet and the epoxy
		}
		if len(s.Cautions) != wants {
			t.Errorf("%s: %q", s.Text, s.Cautions)
		}
	}
}
