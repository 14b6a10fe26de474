package page

import (
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"dryfit/kits/mesh"
	"dryfit/plan"
)

// sent is what the page gets.
type sent struct {
	Status  status
	Model   *Model
	Trouble []string
}

func (s *server) sent(t testing.TB) sent {
	t.Helper()
	var got sent
	if err := json.Unmarshal(s.state.json("", nil, nil), &got); err != nil {
		t.Fatal(err)
	}
	return got
}

// until waits until what the page gets is as wanted.
func (s *server) until(t testing.TB, what string, is func(sent) bool) sent {
	t.Helper()
	for end := time.Now().Add(limit); ; time.Sleep(2 * time.Millisecond) {
		got := s.sent(t)
		if is(got) {
			return got
		}
		if time.Now().After(end) {
			t.Fatalf("%s: it did not come: %+v", what, got.Status)
		}
	}
}

func in(p phase) func(sent) bool { return func(s sent) bool { return s.Status.Phase == p } }

// gate holds the checks of a server, each until it is let through, whatever its context
// says: what comes late must be seen to be late.
type gate struct {
	began chan context.Context // of a check, when its files have been read
	pass  chan struct{}
	once  sync.Once
}

// newGate holds all checks of a server but the first.
func newGate(t testing.TB, s *server) *gate {
	g := &gate{began: make(chan context.Context), pass: make(chan struct{})}
	load, first := s.load, true
	s.load = func(ctx context.Context, read func([]*mesh.Mesh)) (*plan.Project, error) {
		p, err := load(context.WithoutCancel(ctx), read)
		if first {
			first = false
			return p, err
		}
		select {
		case g.began <- ctx:
			<-g.pass
		case <-g.pass:
		}
		return p, err
	}
	t.Cleanup(g.open)
	return g
}

// open lets all checks through from now on.
func (g *gate) open() { g.once.Do(func() { close(g.pass) }) }

// TestLateResult: a save cancels the check under way. What that check finds all the same
// is dropped, whether it is good or bad, and the file as it was saved last is shown.
func TestLateResult(t *testing.T) {
	for name, text := range map[string]string{"good": "kit: Chest A", "bad": "kitt: Chest A"} {
		t.Run(name, func(t *testing.T) {
			f := chest(t, "")
			s := f.server(Maker{})
			g := newGate(t, s)
			serveThis(t, s)
			first := s.sent(t)
			if first.Status.Phase != current || first.Status.Shown == 0 {
				t.Fatalf("at first it is %+v", first.Status)
			}
			f.edit(t, "kit: Chest", text)
			check := <-g.began
			if got := s.sent(t); got.Status.Phase != checking || got.Status.Cause != "kit.yaml was saved" || got.Model.Kit != "Chest" {
				t.Errorf("while it is checked, it is %+v, kit %s", got.Status, got.Model.Kit)
			}
			f.edit(t, text, "kit: Chest B")
			<-check.Done()
			s.until(t, "out of date", in(outdated))
			g.pass <- struct{}{} // the first result, late
			<-g.began
			if got := s.sent(t); got.Status.Phase != checking || got.Status.Shown != first.Status.Shown || got.Model.Kit != "Chest" || got.Trouble != nil {
				t.Errorf("after the late result it is %+v, kit %s, trouble %q", got.Status, got.Model.Kit, got.Trouble)
			}
			g.open()
			if got := s.until(t, "the check", in(current)); got.Model.Kit != "Chest B" || got.Status.Cause != "" || got.Status.Tag == first.Status.Tag {
				t.Errorf("in the end it is %+v, kit %s", got.Status, got.Model.Kit)
			}
		})
	}
}

// TestChangedMeanwhile: a result is dropped if the files have changed before anyone has
// noticed.
func TestChangedMeanwhile(t *testing.T) {
	f := chest(t, "")
	s := f.server(Maker{})
	s.state.refresh(t.Context(), f.check, always, func() {})
	f.edit(t, "kit: Chest", "kit: Great chest")
	s.state.begin()
	s.state.refresh(t.Context(), f.check, func() bool { return false }, func() {})
	if got := s.sent(t); got.Status.Phase != outdated || got.Model.Kit != "Chest" {
		t.Errorf("it is %+v, kit %s", got.Status, got.Model.Kit)
	}
}

// TestBrokenFiles: what cannot be read is broken, with the reason; what was last good
// stays and is known as such; put right, it is checked again.
func TestBrokenFiles(t *testing.T) {
	f := chest(t, "")
	s := f.server(Maker{})
	serveThis(t, s)
	first := s.sent(t).Status
	text, err := os.ReadFile(f.file())
	if err != nil {
		t.Fatal(err)
	}
	away := filepath.Join(t.TempDir(), "parts")
	rename := func(from, to string) {
		t.Helper()
		if err := os.Rename(from, to); err != nil {
			t.Fatal(err)
		}
	}
	for _, c := range []struct {
		what, cause, trouble string
		harm, mend           func()
	}{
		{"the kit file is wrong", "kit.yaml was saved", f.file() + ":11:20: ",
			func() { f.edit(t, "to: box, with: ca}\n  - {fit: handle", "to: boxx, with: ca}\n  - {fit: handle") }, func() { f.write(t, string(text)) }},
		{"the kit file is gone", "kit.yaml is gone", "kit.yaml", func() { rename(f.file(), away) }, func() { rename(away, f.file()) }},
		{"the meshes are gone", "box.stl is gone, and 3 more files changed", "no such folder", func() { rename(f.meshes(), away) }, func() { rename(away, f.meshes()) }},
	} {
		t.Run(c.what, func(t *testing.T) {
			c.harm()
			got := s.until(t, "broken", in(broken))
			if got.Status.Shown < first.Shown || got.Status.Cause != c.cause || got.Model == nil || got.Model.Kit != "Chest" {
				t.Errorf("it is %+v", got.Status)
			}
			if text := strings.Join(got.Trouble, "\n"); !strings.Contains(text, c.trouble) {
				t.Errorf("the trouble is %q, want %q", text, c.trouble)
			}
			c.mend()
			if got := s.until(t, "current", in(current)); got.Trouble != nil || got.Status.Version <= first.Version {
				t.Errorf("put right, it is %+v, trouble %q", got.Status, got.Trouble)
			}
		})
	}
}

// TestProgress: progress is passed on while a check goes on, once for each hundredth.
func TestProgress(t *testing.T) {
	var s state
	if s.tell("reading meshes", 0.5) {
		t.Error("progress is told of when nothing is being checked")
	}
	s.begin()
	before := s.status.Version
	for _, c := range []struct {
		share float64
		want  bool
	}{{0, true}, {0.001, false}, {0.5, true}, {0.503, false}} {
		if got := s.tell("reading meshes", c.share); got != c.want {
			t.Errorf("%g is told: %v", c.share, got)
		}
	}
	if st := s.status; st.Doing != "reading meshes" || st.Share != 0.5 || st.Version != before+2 {
		t.Errorf("%+v", st)
	}
	s.outdate("kit.yaml was saved")
	if st := s.status; st.Phase != outdated || st.Doing != "" || st.Share != 0 {
		t.Errorf("%+v", st)
	}
}

func TestDifference(t *testing.T) {
	a, b := stamp{1, time.Unix(1, 0)}, stamp{1, time.Unix(2, 0)}
	for want, c := range map[string][2]map[string]stamp{
		"kit.yaml was saved":                       {{"x/kit.yaml": a}, {"x/kit.yaml": b}},
		"lid.stl is gone":                          {{"lid.stl": a, "box.stl": b}, {"box.stl": b}},
		"lid.stl is new":                           {{}, {"lid.stl": a}},
		"a.stl was saved, and 1 more file changed": {{"a.stl": a, "b.stl": a}, {"a.stl": b}},
		"files were saved and put back":            {{"a.stl": a}, {"a.stl": a}},
	} {
		if got := difference(c[0], c[1]); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
