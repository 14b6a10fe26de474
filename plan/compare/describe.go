package compare

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"dryfit/kits"
)

// item is an entry of a kit as it is compared: what it is called, and its fields as
// text. Fields that are not given are left out.
type item struct {
	kind, key string
	name      string // of its step, by which it is known again under another key
	fields    []Field
}

// Field is what an entry says under a key, in both revisions; empty where it says
// nothing.
type Field struct {
	Name string `json:"field"`
	Old  string `json:"old"`
	New  string `json:"new"`
}

func (it *item) add(name, value string) {
	if value != "" {
		it.fields = append(it.fields, Field{Name: name, New: value})
	}
}

func (it *item) flag(name string, is bool) {
	if is {
		it.add(name, "yes")
	}
}

// describer describes a kit. newID gives the id that a part has in the new revision.
type describer struct {
	kit   *kits.Kit
	newID map[string]string
	items []item
}

// describe lists all that a kit says, in the sequence of its file.
func describe(k *kits.Kit, newID map[string]string) []item {
	d := &describer{kit: k, newID: newID}
	d.whole()
	for _, f := range k.Fixings {
		d.fixing(f)
	}
	for _, p := range k.Parts {
		d.part(p)
	}
	for _, j := range k.Joins {
		d.join(j)
	}
	for _, s := range k.Spaces {
		d.space(s)
	}
	for _, w := range k.Wires {
		d.wire(w)
	}
	for _, t := range k.Tasks {
		d.task(t)
	}
	for _, s := range k.Service {
		d.service(s)
	}
	if k.Balance != nil {
		d.balance(k.Balance)
	}
	if k.Lights != nil {
		d.lights(k.Lights)
	}
	for _, m := range k.Magnets {
		d.magnets(m)
	}
	return d.items
}

func (d *describer) put(it item) { d.items = append(d.items, it) }

func (d *describer) whole() {
	k := d.kit
	it := item{kind: "kit"}
	it.add("name", k.Name)
	it.add("about", k.About)
	it.add("revision", k.Revision)
	it.add("date", k.Date)
	it.add("for", k.For)
	it.add("contact", k.Contact)
	it.add("licence", oneLine(k.Licence))
	it.add("tools", strings.Join(k.Tools, "; "))
	it.add("scale", k.Scale)
	it.add("clearance", mm(k.Clearance))
	d.put(it)
}

func (d *describer) fixing(f *kits.Fixing) {
	it := item{kind: "fixing", key: f.ID}
	it.add("kind", f.Kind)
	it.add("handle", span(f.Handle))
	it.add("cure", span(f.Cure))
	it.flag("opens", f.Opens)
	d.put(it)
}

func (d *describer) part(p *kits.Part) {
	it := item{kind: "part", key: d.id(p)}
	if p.Name != strings.ReplaceAll(p.ID, "-", " ") { // else the file gives none
		it.add("name", p.Name)
	}
	it.add("number", p.Number)
	it.add("printed", p.Printed)
	if p.Material != nil && p.Material.ID != kits.PlainMaterial(p.Printed) {
		it.add("material", p.Material.ID)
	}
	it.flag("bought", p.Bought)
	it.flag("made", p.Made)
	it.add("size", box(p.Size))
	it.add("quantity", strconv.Itoa(p.Quantity))
	it.add("paint", p.Paint)
	it.flag("fragile", p.Fragile)
	it.flag("fixed-size", p.FixedSize)
	it.add("class", p.Class)
	it.weight(p)
	if p.Pair != nil {
		it.add("pair", d.id(p.Pair))
	}
	if p.Spares > 0 {
		it.add("spares", strconv.Itoa(p.Spares))
	}
	it.add("note", oneLine(p.Note))
	d.put(it)
}

func (d *describer) join(j *kits.Join) {
	it := item{kind: "join", key: "fit " + d.pieces(j.Pieces, "+"), name: j.Step}
	if j.IsClose() {
		it.key = "close " + d.pieces(j.Pieces[:1], "") + " and " + d.pieces(j.Pieces[1:], "")
	}
	it.add("to", d.pieces(j.Onto, ", "))
	if j.Fixing != nil {
		it.add("with", j.Fixing.ID)
	}
	it.flag("opens", j.Opens)
	it.flag("bench", j.Bench)
	it.add("size", box(j.Size))
	if t := j.Toward; t != nil {
		it.add("toward", fmt.Sprintf("[%g, %g, %g]", t[0], t[1], t[2]))
	}
	d.order(&it, &j.Order)
	it.add("takes", span(j.Takes))
	it.add("note", oneLine(j.Note))
	d.put(it)
}

func (d *describer) order(it *item, o *kits.Order) {
	it.add("step", o.Step)
	if o.Planned != nil {
		it.add("planned", o.Planned.String())
	}
	it.add("after", d.targets(o.After))
	it.add("before", d.targets(o.Before))
}

func (d *describer) targets(list []kits.Target) string {
	var names []string
	for _, t := range list {
		names = append(names, d.ref(t.Name))
	}
	slices.Sort(names) // their sequence means nothing
	return strings.Join(names, ", ")
}

func (d *describer) space(s *kits.Space) {
	it := item{kind: "space", key: s.ID}
	var closers []string
	for _, c := range s.ClosedBy {
		closers = append(closers, d.closer(c))
	}
	it.add("closed-by", strings.Join(closers, ", "))
	var held []int
	for _, h := range s.Holds {
		held = append(held, h.Piece)
	}
	slices.Sort(held)
	it.add("holds", d.pieces(held, ", "))
	if s.Inside != nil {
		it.add("inside", s.Inside.ID)
	}
	d.put(it)
}

func (d *describer) closer(c kits.Closer) string {
	text := "nothing"
	if c.Piece >= 0 {
		text = d.pieces([]int{c.Piece}, "")
	}
	if c.Name != "" {
		text += " as " + c.Name
	}
	if o := c.Opening; o != nil {
		text += fmt.Sprintf(" over %s x %s", mm(o.W), mm(o.H))
		if o.Facing != "" {
			text += " facing " + o.Facing
		}
	}
	return text
}

func (d *describer) wire(w *kits.Wire) {
	it := item{kind: "wire", key: w.ID}
	it.add("from", d.pieces([]int{w.From}, ""))
	it.add("to", d.pieces([]int{w.To}, ""))
	it.add("through", d.pieces(w.Through, ", "))
	var runs []string
	for _, s := range w.RunsIn {
		runs = append(runs, s.ID)
	}
	it.add("runs-in", strings.Join(runs, ", "))
	if w.Across != nil {
		it.add("across", mm(*w.Across))
	}
	if w.Hole != nil {
		it.add("hole", mm(*w.Hole))
	}
	it.flag("bare", w.Bare)
	it.add("after", d.targets(w.After))
	it.add("before", d.targets(w.Before))
	it.add("takes", span(w.Takes))
	it.add("note", oneLine(w.Note))
	d.put(it)
}

func (d *describer) task(t *kits.Task) {
	it := item{kind: "task", key: oneLine(t.Do), name: t.Step}
	it.flag("outside coat", t.Coat)
	d.order(&it, &t.Order)
	it.add("takes", span(t.Takes))
	it.add("cure", span(t.Cure))
	it.add("note", oneLine(t.Note))
	d.put(it)
}

func (d *describer) service(s *kits.Service) {
	it := item{kind: "service", key: "reach " + d.pieces([]int{s.Reach}, "")}
	var names []string
	for _, r := range s.ByOpening {
		names = append(names, d.ref(r.Name))
	}
	it.add("by-opening", strings.Join(names, ", "))
	d.put(it)
}

// id is the id of a part in the new revision.
func (d *describer) id(p *kits.Part) string { return d.ref(p.ID) }

// ref is a name in the new revision: that of a part, or of a copy, may be another there.
func (d *describer) ref(name string) string {
	part, copyNo, one := strings.Cut(name, ".")
	if id, renamed := d.newID[part]; renamed {
		part = id
	}
	if one {
		return part + "." + copyNo
	}
	return part
}

// pieces lists pieces, all copies of a part by its id.
func (d *describer) pieces(list []int, sep string) string {
	var names []string
	for i := 0; i < len(list); i++ {
		pc := d.kit.Pieces[list[i]]
		end := i + pc.Part.Quantity
		if pc.Copy == 1 && end <= len(list) && slices.Equal(list[i:end], d.kit.Copies(pc.Part)) {
			names = append(names, d.id(pc.Part))
			i = end - 1
			continue
		}
		names = append(names, d.ref(d.kit.Pieces[list[i]].ID))
	}
	return strings.Join(names, sep)
}

// mm is a length; three places are more than anybody prints.
func mm(v float64) string {
	return strings.TrimRight(strings.TrimRight(strconv.FormatFloat(v, 'f', 3, 64), "0"), ".") + " mm"
}

func box(s *kits.Size) string {
	if s == nil {
		return ""
	}
	var sides []string
	for _, v := range s.XYZ {
		sides = append(sides, strings.TrimSuffix(mm(v), " mm"))
	}
	return strings.Join(sides, " x ") + " mm"
}

func span(d time.Duration) string {
	if d == 0 {
		return ""
	}
	text := d.String() // 1h30m0s
	if strings.HasSuffix(text, "m0s") {
		text = strings.TrimSuffix(text, "0s")
	}
	if strings.HasSuffix(text, "h0m") {
		text = strings.TrimSuffix(text, "0m")
	}
	return text
}

func oneLine(s string) string { return strings.Join(strings.Fields(s), " ") }
