package progress

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"gopkg.in/yaml.v3"

	"dryfit/kits"
	"dryfit/kits/format"
	"dryfit/kits/geom"
)

// Plate is a plate of the printing plan that is kept as it was planned: its number, its
// printer by id, and where its pieces lie, by their ids. Files that were written of it
// keep their meaning.
type Plate struct {
	Number  int
	On      string
	Printed bool
	Room    int // how many times room on the bed counted when it was chosen how its parts lie; 0 for once
	Pieces  []*OnPlate
}

// OnPlate is a piece on a plate: where its box begins, mm, and degrees by which it is
// turned about the upright axis: 0, 90, 180 or 270.
type OnPlate struct {
	ID           string
	X, Y, Turned float64
}

// Limits of what is kept: plates, their numbers, and the pieces on one.
const (
	maxPlates  = 10_000
	maxOnPlate = 10_000
)

var (
	onPlateShape = format.Mapped(format.List(format.Spare, 3, 3).Then(func(at []format.Number) string {
		if turned := at[2].Value; turned >= 360 || math.Mod(turned, 90) != 0 {
			return fmt.Sprintf("is turned by %g degrees; pieces on a plate are turned by 0, 90, 180 or 270", turned)
		}
		return ""
	}), func(at []format.Number) OnPlate { return OnPlate{X: at[0].Value, Y: at[1].Value, Turned: at[2].Value} })
	platesShape = format.DistinctBy(format.List(plateShape, 0, maxPlates), "number", func(p Plate) int { return p.Number })
	plateShape  = format.Object(nil, []format.Field[Plate]{
		format.Key("number", format.Count(maxPlates), func(p *Plate) *int { return &p.Number }, "of the plate").Must(),
		format.Key("on", format.AnyText, func(p *Plate) *string { return &p.On }, "id of its printer").Must(),
		format.Key("printed", format.Flag, func(p *Plate) *bool { return &p.Printed }, "it is printed"),
		format.Key("room", format.Count(maxEntries), func(p *Plate) *int { return &p.Room }, "how many times room on the bed counted when it was chosen how its parts lie"),
		format.Key("pieces", format.Map(format.Name(format.AnyText).Says("piece"), onPlateShape, maxOnPlate,
			func(p *OnPlate, r kits.Ref) { p.ID = r.Name }), func(p *Plate) *[]*OnPlate { return &p.Pieces }, "where each piece lies: x, y and degrees by which it is turned").Must(),
	})
)

// Plate is the plate of a number; nil if none is kept.
func (f *File) Plate(number int) *Plate {
	i := slices.IndexFunc(f.Plates, func(p Plate) bool { return p.Number == number })
	if i < 0 {
		return nil
	}
	return &f.Plates[i]
}

// Keep returns the file with a plan's plates kept, if there are any, and those with the
// given numbers printed, or no longer so. Plates whose numbers are kept already stay as
// they are; those that are neither printed nor in the plan any more are dropped. It is an
// error if the file cannot be edited safely.
func (f *File) Keep(k *kits.Kit, planned []Plate, printed []int, is bool) (*File, error) {
	list := slices.DeleteFunc(slices.Clone(f.Plates), func(p Plate) bool {
		return len(planned) > 0 && !p.Printed && !slices.ContainsFunc(planned, func(q Plate) bool { return q.Number == p.Number })
	})
	for _, p := range planned {
		if f.Plate(p.Number) == nil {
			list = append(list, p)
		}
	}
	slices.SortStableFunc(list, func(a, b Plate) int { return a.Number - b.Number })
	for i := range list {
		if slices.Contains(printed, list[i].Number) {
			list[i].Printed = is
		}
	}
	return f.replate(k, list)
}

// TakeOff returns the file with pieces, by their ids, taken off the plates that are printed:
// of what is not in the model, only those say that it is. It is an error if the file cannot
// be edited safely.
func (f *File) TakeOff(k *kits.Kit, ids []string) (*File, error) {
	gone := func(x *OnPlate) bool { return slices.Contains(ids, x.ID) }
	if !slices.ContainsFunc(f.Plates, func(p Plate) bool { return p.Printed && slices.ContainsFunc(p.Pieces, gone) }) {
		return f, nil
	}
	list := slices.Clone(f.Plates)
	for i := range list {
		if list[i].Printed {
			list[i].Pieces = slices.DeleteFunc(slices.Clone(list[i].Pieces), gone)
		}
	}
	return f.replate(k, list)
}

// replate writes all plates anew, and checks that it can be read.
func (f *File) replate(k *kits.Kit, list []Plate) (*File, error) {
	return f.edited(k, func(e *editor) {
		n := e.under("plates", yaml.SequenceNode)
		n.Kind, n.Tag, n.Value, n.Content = yaml.SequenceNode, "", "", nil
		for _, p := range list {
			n.Content = append(n.Content, p.node())
		}
	}, func(after *File) bool { return len(after.Plates) == len(list) })
}

// node writes a plate on lines of its own.
func (p *Plate) node() *yaml.Node {
	n := &yaml.Node{Kind: yaml.MappingNode}
	add := func(key string, value *yaml.Node) { n.Content = append(n.Content, word(key), value) }
	add("number", number(float64(p.Number)))
	add("on", word(p.On))
	if p.Printed {
		add("printed", &yaml.Node{Kind: yaml.ScalarNode, Tag: "!!bool", Value: "true"})
	}
	if p.Room > 1 {
		add("room", number(float64(p.Room)))
	}
	pieces := &yaml.Node{Kind: yaml.MappingNode}
	for _, x := range p.Pieces {
		at := &yaml.Node{Kind: yaml.SequenceNode, Style: yaml.FlowStyle, Content: []*yaml.Node{number(x.X), number(x.Y), number(x.Turned)}}
		pieces.Content = append(pieces.Content, word(x.ID), at)
	}
	add("pieces", pieces)
	return n
}

// number is written to a thousandth.
func number(v float64) *yaml.Node {
	return &yaml.Node{Kind: yaml.ScalarNode, Value: strconv.FormatFloat(geom.Round(v, 3), 'f', -1, 64)}
}
