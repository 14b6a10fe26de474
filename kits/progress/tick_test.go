package progress_test

import (
	"slices"
	"strings"
	"testing"

	"dryfit/kits/progress"
)

// An item that is ticked off is kept beside what else the file says, and taken back.
func TestTick(t *testing.T) {
	k := kit(t)
	f, err := progress.Read("p.yaml", []byte("# mine\npieces:\n  seat: printed # one\n"))
	if err != nil {
		t.Fatal(err)
	}
	for _, tick := range []progress.Tick{
		{Step: "hull-closing", Kind: progress.TickFit, What: "seat.1"},
		{Step: "fitting seat", Kind: progress.TickDo, What: "Sand 1/2, 50% # not a comment: \"by eye\""},
	} {
		on, err := f.Tick(k, tick, true)
		if err != nil {
			t.Fatal(err)
		}
		if len(on.Ticked) != 1 || on.Ticked[0] != tick || !strings.Contains(string(on.Text()), "seat: printed # one") {
			t.Errorf("%q\n%s", on.Ticked, on.Text())
		}
		twice, err := on.Tick(k, tick, true)
		if err != nil || string(twice.Text()) != string(on.Text()) {
			t.Errorf("ticking twice changes the file: %v\n%s", err, twice.Text())
		}
		off, err := on.Tick(k, tick, false)
		if err != nil || len(off.Ticked) != 0 || !strings.Contains(string(off.Text()), "# mine") {
			t.Errorf("%v\n%s", err, off.Text())
		}
	}
}

// Lines of older files are kept through every edit until they are taken back themselves.
func TestOldTicksAreKept(t *testing.T) {
	k := kit(t)
	const line = "Close a and b: cabin: Crew seat is in"
	f, err := progress.Read("p.yaml", []byte("ticked: [\""+line+"\", a/wash/b]\n"))
	if err != nil {
		t.Fatal(err)
	}
	tick := progress.Tick{Step: "hull-closing", Kind: progress.TickPaint, What: "seat.1"}
	if f, err = f.Tick(k, tick, true); err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(f.Lines, []string{line, "a/wash/b"}) || !slices.Equal(f.Ticked, []progress.Tick{tick}) {
		t.Errorf("%q and %q\n%s", f.Lines, f.Ticked, f.Text())
	}
	if f, err = f.TickLine(k, line, false); err != nil {
		t.Fatal(err)
	}
	if len(f.Lines) != 1 || len(f.Ticked) != 1 {
		t.Errorf("%q and %q\n%s", f.Lines, f.Ticked, f.Text())
	}
}
