package progress

import (
	"fmt"
	"slices"
	"strings"

	"dryfit/kits"
	"dryfit/kits/plain"
)

// What a tick says has been done.
const (
	TickFit    = "fit"    // a piece is in place
	TickPaint  = "paint"  // a piece is painted
	TickThread = "thread" // a wire is threaded
	TickDo     = "do"     // a task is done
)

var tickKinds = []string{TickFit, TickPaint, TickThread, TickDo}

// Tick is an item of a last call that was ticked off. It is written
// step/kind/what, as in hull-closing/fit/seat.1.
type Tick struct {
	Step string // the step that comes next: its name or, without one, what it does, in ids
	Kind string // TickFit, TickPaint, TickThread or TickDo
	What string // the id of a piece or a wire, or the name or text of a task
}

// Slashes in the texts of tasks are escaped, so that they do not end a field.
var (
	escapeTick   = strings.NewReplacer("%", "%25", "/", "%2F")
	unescapeTick = strings.NewReplacer("%2F", "/", "%25", "%")
)

func (t Tick) String() string {
	return escapeTick.Replace(t.Step) + "/" + t.Kind + "/" + escapeTick.Replace(t.What)
}

// ParseTick reads what [Tick.String] writes.
func ParseTick(s string) (Tick, error) {
	fields := strings.Split(s, "/")
	if len(fields) != 3 || fields[0] == "" || !slices.Contains(tickKinds, fields[1]) || fields[2] == "" {
		return Tick{}, fmt.Errorf("%q is not a tick; write it like hull-closing/fit/seat.1", plain.Text(s))
	}
	return Tick{unescapeTick.Replace(fields[0]), fields[1], unescapeTick.Replace(fields[2])}, nil
}

// Tick returns the file with an item of a last call ticked off, or no longer so.
func (f *File) Tick(k *kits.Kit, t Tick, on bool) (*File, error) {
	return f.TickLine(k, t.String(), on)
}

// TickLine is Tick for a line of [File.Lines].
func (f *File) TickLine(k *kits.Kit, line string, on bool) (*File, error) {
	return f.edited(k, func(e *editor) { e.listed("ticked", line, on) }, func(after *File) bool { return after.IsTicked(line) == on })
}

// IsTicked reports whether the file has a tick, as [Tick.String] writes it, or an old line.
func (f *File) IsTicked(line string) bool {
	t, err := ParseTick(line)
	return err == nil && slices.Contains(f.Ticked, t) || slices.Contains(f.Lines, line)
}

// ticked takes in an entry of the file.
func (f *File) ticked(line string) {
	if t, err := ParseTick(line); err == nil {
		f.Ticked = append(f.Ticked, t)
	} else {
		f.Lines = append(f.Lines, line)
	}
}

// unsafe is the error of an edit that did not do what it should.
func (f *File) unsafe() error {
	return fmt.Errorf("%s cannot be edited safely as it is written; edit it by hand", plain.Text(f.Name))
}
