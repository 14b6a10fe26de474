package rehearse

import (
	"slices"
	"strings"
	"testing"

	"dryfit/kits/format"
	"dryfit/kits/kitstest"
	"dryfit/plan"
)

// A boat has two halves that close on each other without a name, a part in two copies,
// and a task without a name.
const boatKit = `kit: Boat
parts: {left: {}, right: {}, seat: {quantity: 2}, oar: {quantity: 2, number: O-1}, lid: {}}
joins:
  - {close: [left, right]}
  - {fit: seat, to: left}
  - {fit: oar.1, to: left, step: port-oar}
  - {fit: oar.2, to: right}
  - {fit: lid, to: left, with: magnet}
wires:
  - {wire: lead, from: left, to: right}
tasks:
  - {do: Wet the oars}
`

func TestRead(t *testing.T) {
	k, steps := readKit(t, boatKit)
	for _, c := range []struct{ name, text, want string }{
		{"a step a line", "seat\nport-oar\n\n  oar.2 # port is first\n# lead\nlead", "1 2 3 5"},
		{"one copy stands for the step that fits both", "seat.2", "1"},
		{"a part with copies fitted apart, and by its number", "oar\nO-1", "2 3 2 3"},
		{"both pieces of a closing", "left right\nright, left", "0 0"},
		{"what nothing fits is there from the start", "left\nseat\nright", "1"},
		{"text of a task", "Wet the oars", "6"},
		{"off and on", "lid\noff lid\nlid", "4 -4 4"},
		{"Windows", "\ufeffseat\r\nlid\r\n", "1 4"},
		{"commas", "number,step,pieces\n2,,seat.1 seat.2\n1,port-oar,x\n,lead,", "1 2 5"},
		{"semicolons", "\"Step\";Kind;Pieces;What\r\n;close;left right;\r\n;task;;Wet the oars\r\n", "0 6"},
		{"no step in a row", "piece;note\nlid;\n;later\nseat;", "4 1"},
		{"an apostrophe against formulas", "what,step\n'Wet the oars,", "6"},
	} {
		list, err := Read(k, steps, "steps", []byte(c.text))
		var got []string
		for _, a := range list {
			mark := ""
			if a.Off {
				mark = "-"
			}
			got = append(got, mark+string(rune('0'+a.Step)))
		}
		if err != nil || strings.Join(got, " ") != c.want {
			t.Errorf("%s: got %v, %v, want %s", c.name, got, err, c.want)
		}
	}
}

func TestReadFaults(t *testing.T) {
	k, steps := readKit(t, boatKit)
	for _, c := range []struct{ file, text, want string }{
		{"my.txt", "seat\nsaet\n  lidd", "my.txt:2:1: the kit has no piece, wire or step called \"saet\", did you mean \"seat\"?\n" +
			"my.txt:3:3: the kit has no piece, wire or step called \"lidd\", did you mean \"lid\"?"},
		{"my.csv", "number,piece\n1,seat\n2,oar.3\n", "my.csv:3:3: the kit has no piece, wire or step called \"oar.3\""},
		{"my.csv", "first,second\nseat,lid\n", "my.csv:1:1: the first row has no heading that names steps; call a column step, name, wire, pieces, piece, what"},
		{"my.csv", "", "my.csv:1:1: the first row has no heading that names steps; call a column step, name, wire, pieces, piece, what"},
		{"my.txt", "s\xff", "my.txt: the file is not UTF-8 text; save it as UTF-8"},
	} {
		list, err := Read(k, steps, c.file, []byte(c.text))
		if err == nil || list != nil || !strings.HasPrefix(err.Error(), c.want) {
			t.Errorf("%q: got %v, %v, want %s", c.text, list, err, c.want)
		}
	}
}

// What is written is read as the same sequence.
func TestWrite(t *testing.T) {
	k, steps := readKit(t, boatKit)
	want := append(Actions(indices(len(steps))), Action{Step: 4, Off: true}, Action{Step: 4})
	got, err := Read(k, steps, "", Write(k, steps, want))
	for i := range got {
		got[i].Pos = want[0].Pos
	}
	if err != nil || !slices.Equal(got, want) {
		t.Errorf("got %v, %v, want %v", got, err, want)
	}
}

// A file that names nothing is no sequence, by mistake more likely than by intent.
func TestReadNothing(t *testing.T) {
	k := kitstest.Read(t, "kit: Nothing\nparts: {hull: {}}\n")
	for file, text := range map[string]string{"empty.txt": "", "comment.txt": "# later\n\n", "heads.csv": "step\n"} {
		if _, err := Read(k, nil, file, []byte(text)); err == nil || !strings.Contains(err.Error(), file+": names no step") {
			t.Errorf("%s: got %v", file, err)
		}
	}
	if _, err := Read(k, nil, "base.txt", []byte("hull\n")); err != nil {
		t.Errorf("a base is a name: %v", err)
	}
}

// A sequence that names far more steps than the kit has, or nothing that the kit has, is
// not read to its end.
func TestReadEndless(t *testing.T) {
	k := kitstest.Read(t, "kit: Endless\nparts: {hull: {}, pin: {}}\njoins: [{fit: pin, to: hull}]\n")
	steps := plan.Derive(k).Steps
	for text, want := range map[string]string{
		strings.Repeat("pin\n", 100_000):                  "endless.txt:1010:1: the sequence names more than 1009 steps",
		"step,note\n" + strings.Repeat("pin,\n", 100_000): "endless.txt:1011:1: the sequence names more than 1009 steps",
		strings.Repeat("nail\n", 100_000):                 `endless.txt:100:1: the kit has no piece, wire or step called "nail"`,
		strings.Repeat("pin\n", 900) + "off pin\nnail":    `endless.txt:902:1: the kit has no piece, wire or step called "nail"`,
	} {
		_, err := Read(k, steps, "endless.txt", []byte(text))
		if err == nil || !strings.Contains(err.Error(), want) || strings.Count(err.Error(), "\n") > 100 {
			t.Errorf("want %s, got %.300v", want, err)
		}
	}
}

// A file that is too large is a clear error.
func TestReadLarge(t *testing.T) {
	k := kitstest.Read(t, "kit: Large\nparts: {hull: {}}\n")
	_, err := Read(k, nil, "long.txt", make([]byte, format.MaxBytes+1))
	if err == nil || !strings.Contains(err.Error(), "long.txt: is larger than 4 MB, the limit for a sequence") {
		t.Errorf("got %v", err)
	}
}
