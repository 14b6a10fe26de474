package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"

	"dryfit/graphviz/help"
	"dryfit/kits"
	"dryfit/kits/kitstest"
	"dryfit/plan/project/projecttest"
)

// reopenedKit is a box whose lid goes on before the gem, and must come off for it.
const reopenedKit = `kit: Reopened
parts: {box: {}, lid: {}, gem: {}}
joins:
  - {fit: lid, to: box, with: magnet, before: [gem]}
  - {fit: gem, to: box, with: ca}
spaces:
  room: {closed-by: [box, lid], holds: [gem]}
`

// The topic json tells the truth of what the commands print for the demonstration kit:
// every key printed is described, with values of that sort, and every key that is always
// there is printed.
func TestJSON(t *testing.T) {
	if testing.Short() {
		t.Skip("it measures the demonstration kit, which takes long under the race detector")
	}
	kit, bare, trapped, revised := projecttest.Copy(t), kitWith(t, ""), kitWith(t, "m01-ballast-late"), kitWith(t, "")
	edit(t, revised, "winch-frame", "winch-stand", "\ntasks:\n", "\ntasks:\n  - {do: Take a photo, step: photo, after: [winch-stand]}\n")
	edit(t, bare, "density: 1.15}", "density: 1.15, package: 500, price: 40 EUR}")
	for _, mark := range [][]string{{"done", "inventory"}, {"fitted", "C05"}, {"printed", "H01P", "C01"}} {
		ranOn(t, kit, append([]string{"mark"}, mark...)...)
	}
	reopened := filepath.Join(t.TempDir(), "reopened.yaml")
	if err := os.WriteFile(reopened, []byte(reopenedKit), 0o644); err != nil {
		t.Fatal(err)
	}
	c := &contract{t: t, shapes: readShapes(t), seen: map[string]bool{}}
	for _, run := range [][]string{
		{"check", trapped}, {"check", bare}, {"balance", bare}, {"lights", bare}, {"magnets", bare}, {"measure", meshes(t, kit)},
		{"next", kit}, {"order", kit}, {"order", reopened}, {"parts", bare}, {"printing", kit}, {"time", bare}, {"time", reopened}, {"tree", bare}, {"totals", bare}, {"release", bare, "--out", filepath.Join(bare, "r.zip")},
		{"rehearse", bare, reordered(t, bare, "resistor-board", "battery-hatch")},
		{"rehearse", bare, reordered(t, bare, "inventory", "console-port")},
		{"why", bare, "stretcher"}, {"why", bare, "hull-closing"}, {"why", trapped, "ballast-tray"}, {"rescale", kit, "1:48"},
		{"compare", kit, revised}, {"compare", revised, bare}, {"compare", bare, trapped},
		{"booklet", bare, "--out", filepath.Join(bare, "b.html")}, {"booklet", bare, "--check"},
		{"demo", filepath.Join(bare, "new"), "--no-meshes"},
	} {
		c.run(run)
	}
	for _, shape := range c.shapes {
		for _, r := range shape.rows {
			if !r.optional && !c.seen[shape.name+" "+r.path] {
				t.Errorf("%s: no run prints %s", shape.name, r.path)
			}
		}
	}
	for _, cmd := range newRoot().Commands() {
		if cmd.Flags().Lookup("json") != nil && c.shape(cmd.Name()) == nil {
			t.Errorf("the topic json does not describe %s", cmd.Name())
		}
	}
}

// meshes are those of the demonstration kit, or of a chest that is measured much faster.
func meshes(t *testing.T, kit string) string {
	t.Helper()
	if kitstest.Full() {
		return kit
	}
	t.Log("shortened: a chest is measured; CI=true measures the demonstration kit")
	script, err := txtar.ParseFile("testdata/script/measure.txtar")
	if err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(kit, "chest.obj")
	for _, f := range script.Files {
		if f.Name == "chest.obj" {
			if err := os.WriteFile(file, f.Data, 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
	return file
}

// edit replaces text in the kit file of a folder.
func edit(t *testing.T, folder string, pairs ...string) {
	t.Helper()
	file := filepath.Join(folder, kits.FileName)
	old, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(file, []byte(strings.NewReplacer(pairs...).Replace(string(old))), 0o644); err != nil {
		t.Fatal(err)
	}
}

// reordered is a file with the order of a kit, in which a step is moved behind another.
// Both go by a piece or a name.
func reordered(t *testing.T, folder, step, behind string) string {
	t.Helper()
	rows, err := csv.NewReader(strings.NewReader(ranOn(t, folder, "order", "--format", "csv").out)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	find := func(name string) int {
		return slices.IndexFunc(rows, func(row []string) bool {
			return row[slices.Index(rows[0], "pieces")] == name || row[slices.Index(rows[0], "step")] == name
		})
	}
	moved := rows[find(step)]
	rows = slices.DeleteFunc(rows, func(row []string) bool { return row[0] == moved[0] })
	rows = slices.Insert(rows, find(behind)+1, moved)
	var b bytes.Buffer
	file := filepath.Join(folder, step+".csv")
	if err := csv.NewWriter(&b).WriteAll(rows); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(file, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	return file
}

// shape is what the topic says of one object.
type shape struct {
	name string
	rows []row
}

// row is what the topic says of a key.
type row struct {
	path     string
	optional bool
	value    string
}

// readShapes reads the tables of the topic.
func readShapes(t *testing.T) []*shape {
	t.Helper()
	topic, known := help.Find("json")
	if !known {
		t.Fatal("there is no topic json")
	}
	var list []*shape
	line := regexp.MustCompile("^\\| `([^`]+)`( \\(optional\\))? \\| (.*) \\| .+ \\|$")
	for _, text := range strings.Split(string(topic.Markdown()), "\n") {
		if name, is := strings.CutPrefix(text, "## "); is {
			list = append(list, &shape{name: name})
		} else if m := line.FindStringSubmatch(text); m != nil {
			last := list[len(list)-1]
			last.rows = append(last.rows, row{m[1], m[2] != "", m[3]})
		}
	}
	return list
}

// contract compares what is printed with the topic.
type contract struct {
	t      *testing.T
	shapes []*shape
	seen   map[string]bool // shapes with paths
}

func (c *contract) shape(name string) *shape {
	for _, s := range c.shapes {
		if s.name == name {
			return s
		}
	}
	return nil
}

func (c *contract) run(args []string) {
	c.t.Helper()
	name := args[0]
	if slices.Contains(args, "--check") {
		name += " --check"
	}
	s := c.shape(name)
	if s == nil {
		c.t.Fatalf("the topic json does not describe %s", name)
	}
	out := ranOn(c.t, args[1], append(append([]string{args[0]}, args[2:]...), "--json")...)
	var data map[string]any
	if err := json.NewDecoder(bytes.NewBufferString(out.out)).Decode(&data); err != nil {
		c.t.Fatalf("%s: %v: %s", args, err, out.messages)
	}
	c.object(s, "", data)
}

// object compares an object, whose keys have the path before them.
func (c *contract) object(s *shape, path string, data map[string]any) {
	rows := map[string]row{}
	for _, r := range s.rows {
		key, below := strings.CutPrefix(r.path, path)
		if !below || strings.ContainsAny(key, ".[") {
			continue
		}
		rows[key] = r
		if _, there := data[key]; !there && !r.optional {
			c.t.Errorf("%s: %s is not printed", s.name, r.path)
		}
	}
	for key, value := range data {
		r, described := rows[key]
		if !described {
			c.t.Errorf("%s: %s%s is not described", s.name, path, key)
			continue
		}
		c.seen[s.name+" "+r.path] = true
		c.value(s, r.path, r.value, value)
	}
}

// value compares a value with the words that describe it.
func (c *contract) value(s *shape, path, says string, v any) {
	if list, is := strings.CutPrefix(says, "list of "); is {
		c.list(s, path, list, v)
		return
	}
	says, nullable := strings.CutSuffix(says, " or null")
	says = strings.Replace(says, "objects", "object", 1)
	ok := nullable && v == nil
	if text, is := v.(string); is {
		ok = says == "text" || says == "texts" || slices.Contains(strings.Split(says, ", "), text)
	}
	if number, is := v.(float64); is {
		whole := number == math.Trunc(number)
		ok = strings.HasPrefix(says, "number") || strings.HasPrefix(says, "whole number") && whole
	}
	if _, is := v.(bool); is {
		ok = says == "true or false"
	}
	if object, is := v.(map[string]any); is {
		ok = true
		switch like := regexp.MustCompile("^object like `(.+)`$").FindStringSubmatch(says); {
		case strings.HasPrefix(says, "finding"):
			c.object(c.shape("finding"), "", object)
		case like != nil:
			c.object(s, like[1]+".", object)
		default:
			ok = says == "object"
			c.object(s, path+".", object)
		}
	}
	if !ok {
		c.t.Errorf("%s: %s is %v, not %s", s.name, path, v, says)
	}
}

// list compares a list, which may have to be of some length.
func (c *contract) list(s *shape, path, says string, v any) {
	list, is := v.([]any)
	if !is {
		c.t.Errorf("%s: %s is %v, not a list", s.name, path, v)
		return
	}
	says = strings.Replace(says, "lists of ", "list of ", 1)
	if first, rest, _ := strings.Cut(says, " "); first[0] >= '0' && first[0] <= '9' {
		if n, err := strconv.Atoi(first); err != nil || n != len(list) {
			c.t.Errorf("%s: %s has %d values, not %s", s.name, path, len(list), first)
		}
		says = rest
	}
	for _, one := range list {
		c.value(s, path+"[]", says, one)
	}
}
