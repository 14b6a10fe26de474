package compare

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"dryfit/kits"
	"dryfit/kits/english"
)

// item is an entry of a kit as it is compared: what it is called, and its fields as
// text. Fields that are not given are left out.
type item struct {
	kind, key string
	name      string // of its step, by which it is recognised if its key changed
	fields    []Field
}

// Field is what an entry says under a key, in both revisions; empty where it says
// nothing.
type Field struct {
	Name string `json:"field"` // the key
	Old  string `json:"old"`   // value in the old kit; empty for none
	New  string `json:"new"`   // value in the new kit; empty for none
}

func (it *item) add(name, value string) {
	if value != "" {
		it.fields = append(it.fields, Field{Name: name, New: value})
	}
}

// flag adds yes or no. A key that the kit omits still has one of these values.
func (it *item) flag(name string, is bool) {
	it.add(name, map[bool]string{true: "yes", false: "no"}[is])
}

// text adds what is written for people, which may be broken into lines anywhere.
func (it *item) text(name, value string) { it.add(name, english.OneLine(value)) }

// amount adds a number with its unit; 0 means not given.
func (it *item) amount(name string, v float64, unit string) {
	if v != 0 {
		it.add(name, fmt.Sprintf("%g %s", v, unit))
	}
}

// length adds a length in mm, which may be nil.
func (it *item) length(name string, v *float64) {
	if v != nil {
		it.add(name, mm(*v))
	}
}

func (it *item) share(name string, v *float64) {
	if v != nil {
		it.add(name, fmt.Sprintf("%g%%", 100**v))
	}
}

func (it *item) span(name string, d time.Duration) {
	if d != 0 {
		it.add(name, brief(d))
	}
}

// brief writes a time as kit files do: 1h30m.
func brief(d time.Duration) string {
	text := d.String() // 1h30m0s
	for _, end := range []string{"m0s", "h0m"} {
		if strings.HasSuffix(text, end) {
			text = text[:len(text)-2]
		}
	}
	return text
}

// describer describes a kit. newID gives the id that a part has in the new revision.
type describer struct {
	kit   *kits.Kit
	newID newIDs
	items []item
}

// describe lists everything a kit says, in file order.
func describe(k *kits.Kit, newID newIDs) []item {
	d := &describer{kit: k, newID: newID}
	d.whole()
	each(k.Fixings, d.fixing)
	each(k.Parts, d.part)
	each(k.Joins, d.join)
	each(k.Spaces, d.space)
	each(k.Wires, d.wire)
	each(k.Tasks, d.task)
	each(k.Service, d.service)
	if k.Balance != nil {
		d.balance(k.Balance)
	}
	if k.Lights != nil {
		d.lights(k.Lights)
	}
	each(k.Magnets, d.magnets)
	each(k.Materials, d.material)
	each(k.Printers, d.printer)
	return d.items
}

func each[T any](list []T, do func(T)) {
	for _, one := range list {
		do(one)
	}
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
	it.text("licence", k.Licence)
	it.add("tools", strings.Join(k.Tools, "; "))
	it.add("scale", k.Scale)
	it.add("clearance", mm(k.Clearance))
	if p := k.Painting; p != nil {
		it.add("painting", english.Span(p.Takes)+", sets "+english.Span(p.Sets))
	}
	d.put(it)
}

func (d *describer) fixing(f *kits.Fixing) {
	it := item{kind: "fixing", key: f.ID}
	it.add("kind", f.Kind)
	it.span("handle", f.Handle)
	it.span("cure", f.Cure)
	it.flag("opens", f.Opens)
	d.put(it)
}

func (d *describer) part(p *kits.Part) {
	it := item{kind: "part", key: d.newID.of(p.ID)}
	if p.Name != strings.ReplaceAll(p.ID, "-", " ") { // otherwise the file gives none
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
	it.add("colour", p.Colour)
	it.flag("fragile", p.Fragile)
	it.flag("fixed-size", p.FixedSize)
	it.add("class", p.Class)
	it.amount("mass", p.Mass, "g")
	it.share("fill", p.Fill)
	if p.Pair != nil {
		it.add("pair", d.newID.of(p.Pair.ID))
	}
	if p.Spares > 0 {
		it.add("spares", strconv.Itoa(p.Spares))
	}
	it.text("note", p.Note)
	d.put(it)
}

func (d *describer) join(j *kits.Join) {
	it := item{kind: "join", key: "fit " + d.pieces("+", j.Pieces...), name: j.Step}
	if j.IsClose() {
		it.key = "close " + d.pieces("", j.Pieces[0]) + " and " + d.pieces("", j.Pieces[1])
	}
	it.add("to", d.pieces(", ", j.Onto...))
	if j.Fixing != nil {
		it.add("with", j.Fixing.ID)
	}
	it.flag("opens", j.Opens)
	it.flag("bench", j.Bench)
	it.add("size", box(j.Size))
	if j.Toward != nil {
		it.add("toward", english.Vector(*j.Toward))
	}
	d.order(&it, &j.Order)
	it.span("takes", j.Takes)
	it.text("note", j.Note)
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
	names := ids(list, func(t kits.Target) string { return d.newID.of(t.Name) })
	slices.Sort(names) // their order means nothing
	return strings.Join(names, ", ")
}

func (d *describer) space(s *kits.Space) {
	it := item{kind: "space", key: s.ID}
	it.add("closed-by", strings.Join(ids(s.ClosedBy, d.closer), ", "))
	var held []int
	for _, h := range s.Holds {
		held = append(held, h.Piece)
	}
	slices.Sort(held)
	it.add("holds", d.pieces(", ", held...))
	if s.Inside != nil {
		it.add("inside", s.Inside.ID)
	}
	d.put(it)
}

func (d *describer) closer(c kits.Closer) string {
	text := "nothing"
	if c.Piece >= 0 {
		text = d.pieces("", c.Piece)
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
	it.add("from", d.pieces("", w.From))
	it.add("to", d.pieces("", w.To))
	it.add("through", d.pieces(", ", w.Through...))
	it.add("runs-in", strings.Join(ids(w.RunsIn, func(s *kits.Space) string { return s.ID }), ", "))
	it.length("across", w.Across)
	it.length("hole", w.Hole)
	it.flag("bare", w.Bare)
	it.add("after", d.targets(w.After))
	it.add("before", d.targets(w.Before))
	it.span("takes", w.Takes)
	it.text("note", w.Note)
	d.put(it)
}

func (d *describer) task(t *kits.Task) {
	it := item{kind: "task", key: english.OneLine(t.Do), name: t.Step}
	it.flag("outside coat", t.Coat)
	d.order(&it, &t.Order)
	it.span("takes", t.Takes)
	it.span("cure", t.Cure)
	it.text("note", t.Note)
	d.put(it)
}

func (d *describer) service(s *kits.Service) {
	it := item{kind: "service", key: "reach " + d.pieces("", s.Reach)}
	it.add("by-opening", strings.Join(ids(s.ByOpening, func(r kits.Ref) string { return d.newID.of(r.Name) }), ", "))
	d.put(it)
}

// pieces lists pieces, all copies of a part by its id.
func (d *describer) pieces(sep string, list ...int) string {
	return strings.Join(ids(d.kit.Names(list), d.newID.of), sep)
}

func ids[T any](list []T, id func(T) string) []string {
	var out []string
	for _, one := range list {
		out = append(out, id(one))
	}
	return out
}

// mm formats a length; three decimals are more than any printer resolves.
func mm(v float64) string { return english.Number(v, 3) + " mm" }

func box(s *kits.Size) string {
	if s == nil {
		return ""
	}
	names := ids(s.XYZ[:], func(v float64) string { return english.Number(v, 3) })
	return strings.Join(names, " x ") + " mm"
}
