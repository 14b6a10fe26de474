package kits

import (
	"fmt"
	"time"

	"dryfit/kits/format"
	"dryfit/kits/geom"
	"dryfit/kits/plain"
)

// Types of package format that describe a file.
type (
	Pos    = format.Pos
	Ref    = format.Ref
	Fault  = format.Fault
	Faults = format.Faults
)

// Plain is [plain.Text].
func Plain(s string) string { return plain.Text(s) }

// Kit is a kit file, read and resolved. Lists keep the order of the file. All
// lengths are in mm at the scale of the kit.
type Kit struct {
	File      string
	Name      string
	About     string
	Revision  string
	Date      string // of the revision, as written
	For       string // who it is for
	Contact   string
	Licence   string
	Tools     []string
	Scale     string // as written, "1:32"; empty if not stated
	Unit      Unit   // of the lengths as written
	Clearance float64
	Fit       float64 // mm of gap up to which pieces count as touching
	Meshes    string  // folder of the part meshes, relative to the file; empty if none
	Fixings   []*Fixing
	Parts     []*Part
	Joins     []*Join
	Spaces    []*Space
	Wires     []*Wire
	Tasks     []*Task
	Service   []*Service
	Materials []*Material // the built-in ones first
	Printers  []*Printer
	Painting  *Painting // nil if the kit states none
	Balance   *Balance  // nil if the kit has none
	Lights    *Lights   // nil if the kit has none
	Magnets   []*Magnets

	// FragileSpares is how many spares each fragile part gets that is printed and states none.
	FragileSpares int

	Pieces []Piece // of the model, in the order of the parts

	units     string
	clearance *format.Number
	fit       *format.Number
	partOf    map[string]*Part
	named     map[string][]int // pieces by their ids, those of parts, and numbers
	spaceOf   map[string]*Space
	fixingOf  map[string]*Fixing
	heldIn    map[int][]*Space // piece -> the spaces that name it
	fitOf     []*Join          // piece -> the join that fits it, nil for a base
	magnetOf  map[int]*Magnets // piece -> what the kit says of it
}

// Piece is one copy of a part in its position in the model.
type Piece struct {
	ID   string // the part's id, with .1, .2 ... when there are several copies
	Part *Part
	Copy int // from 1
}

// Size is a box along the model's axes, in mm.
type Size struct {
	XYZ geom.Vec
	Pos Pos
}

// Fixing is what a join is made with.
type Fixing struct {
	ID     string
	Pos    Pos // zero for one that is built in
	Kind   string
	Handle time.Duration // until the joined pieces can be handled
	Cure   time.Duration // until full strength
	Opens  bool

	handle, cure *time.Duration
	opens        *bool
}

// Part is one line of the parts list.
type Part struct {
	ID        string
	Pos       Pos
	Number    string    // the designer's own number, empty if none
	Name      string    // the id with spaces when the file gives no name
	Printed   string    // Resin or Filament; empty if not printed or not stated
	Material  *Material // nil if unknown
	Mass      float64   // g, of each piece; 0 if not stated
	Fill      *float64  // share of the inside that is printed; nil if not stated
	Bought    bool
	Made      bool
	Mesh      string
	Size      *Size
	Quantity  int
	Paint     string
	PaintPos  Pos
	Colour    string // of its paint, as written; empty if not stated
	Fragile   bool
	FixedSize bool
	Note      string
	Class     string
	Pair      *Part
	Spares    int       // beyond those in the model
	Orient    *geom.Vec // direction of the model that points up while printing; nil to choose one
	Face      *geom.Vec // direction in which its visible faces face; nil for those seen from outside

	pair     *Ref
	material *Ref
	paint    *format.Text
	number   *format.Text
	mass     *format.Number
	spares   *int
	first    int // index of its first piece
}

// Join fixes pieces together. Either it fits Pieces onto Onto, or it closes the
// groups of the two Pieces on each other and Onto is empty.
type Join struct {
	Pieces []int
	Onto   []int // a fitted piece is carried by the first; all must already be in one group
	Fixing *Fixing
	Opens  bool
	Bench  bool
	Size   *Size       // of the unit built on the bench
	Toward *[3]float64 // direction of travel
	Order

	fit, with *Ref
	to, close []Ref
	opens     *bool
}

// IsClose reports whether the join closes two groups on each other.
func (j *Join) IsClose() bool { return j.close != nil }

// To lists the names a fit goes to, as written, each with its position.
func (j *Join) To() []Ref { return j.to }

// Order is what the file says about any step, and when it is done.
type Order struct {
	Pos           Pos
	Takes         time.Duration // hands-on
	Note          string
	Step          string // its name, empty if none
	After, Before []Target
	Planned       *time.Duration // when the designer plans it, from the start of the build

	step          *Ref
	after, before []Ref
}

// Target is what an after or before names.
type Target struct {
	Ref
	Joins []*Join // the joins that fit the piece, or the one of that name
	Wire  *Wire
	Task  *Task
}

// Space is a hollow of the model that becomes closed.
type Space struct {
	ID       string
	Pos      Pos
	ClosedBy []Closer
	Holds    []Held
	Inside   *Space

	closedBy []closer
	holds    []Ref
	inside   *Ref
}

// Depth is the number of spaces around a space.
func (s *Space) Depth() int {
	n := 0
	for s.Inside != nil {
		n, s = n+1, s.Inside
	}
	return n
}

// Held is a piece inside a space, and the position in the file that says so.
type Held struct {
	Piece int
	Pos   Pos
}

// Closer shuts one opening of a space. Piece is -1 for an opening that nothing
// ever covers; Opening is nil when a whole side is open while the piece is off.
type Closer struct {
	Piece   int
	Opening *Opening
	Name    string
	Pos     Pos
}

// Opening is a clear rectangle in mm. With Facing, W and H are along the other
// two axes in the order x, y, z; without it, their order has no meaning.
type Opening struct {
	W, H   float64
	Facing string // "x", "y", "z" or empty
	Pos    Pos
}

// Wire runs from one piece to another.
type Wire struct {
	ID       string
	From, To int
	Through  []int
	RunsIn   []*Space
	Across   *float64 // widest part that is pulled through, in mm
	Hole     *float64 // the narrowest hole on its run, in mm
	HolePos  Pos
	Bare     bool // the ends are put on after threading
	Order

	id, from, to    Ref
	through, runsIn []Ref
	hole            *format.Number
}

// Task is any other step: paint, test, let cure.
type Task struct {
	Do   string
	Coat bool // the outside coat
	Order
	Cure time.Duration

	coat string
}

// Service is something that must stay possible on the finished model.
type Service struct {
	Pos       Pos
	Reach     int   // a piece
	ByOpening []Ref // closers or named openings; empty for any

	reach Ref
}

// Fitted returns the join that fits a piece, nil for the base of a group.
func (k *Kit) Fitted(piece int) *Join { return k.fitOf[piece] }

// Copies lists the pieces of a part.
func (k *Kit) Copies(p *Part) []int {
	if !p.InModel() {
		return nil
	}
	list := make([]int, p.Quantity)
	for i := range list {
		list[i] = p.first + i
	}
	return list
}

// Aside lists what is printed but is not part of the model: tooling, spare parts,
// and spares of the model's parts, which have copy number 0. It is an error if
// there are too many.
func (k *Kit) Aside() ([]Piece, error) {
	var list []Piece
	for _, p := range k.Parts {
		copies := p.Quantity
		if p.InModel() {
			copies = 0
		}
		if !p.ToPrint() {
			continue
		}
		if len(list)+copies+p.Spares > MaxPieces {
			return nil, fmt.Errorf("%s: parts: %s: the kit has more than %d pieces of tooling and spares to print; lower the quantity", p.Pos, p.ID, MaxPieces)
		}
		for c := range copies {
			list = append(list, Piece{p.CopyID(c + 1), p, c + 1})
		}
		for c := range p.Spares {
			list = append(list, Piece{fmt.Sprintf("%s.spare-%d", p.ID, c+1), p, 0})
		}
	}
	return list, nil
}

// InModel reports whether the part's pieces are in the model.
func (p *Part) InModel() bool { return p.Class == "model" || p.Class == "option" }

// StatesSpares reports whether the kit says how many spares of the part to have.
func (p *Part) StatesSpares() bool { return p.spares != nil || p.Spares > 0 }

// Label is the builder's name for the part: its name, and the designer's number
// if there is one.
func (p *Part) Label() string {
	if p.Number == "" {
		return p.Name
	}
	return p.Name + " " + p.Number
}

// Label is the builder's name for the piece: the label of the part, and the
// number of the copy if there are several.
func (k *Kit) Label(piece int) string {
	pc := k.Pieces[piece]
	if pc.Part.Quantity == 1 {
		return pc.Part.Label()
	}
	return fmt.Sprintf("%s no. %d", pc.Part.Label(), pc.Copy)
}

// PiecesNamed lists the pieces that a name means: one piece, or all copies of a part, by
// its id or by the designer's number. It is empty for an unknown name.
func (k *Kit) PiecesNamed(name string) []int { return k.named[name] }

// Named is PiecesNamed, with an error that suggests a similar name for an unknown
// one.
func (k *Kit) Named(name string) ([]int, error) {
	if list := k.named[name]; list != nil {
		return list, nil
	}
	if p := k.partOf[name]; p != nil {
		return nil, fmt.Errorf("%s is %s and is never part of the model", name, p.Class)
	}
	var known []string
	for _, p := range k.Parts {
		known = append(known, p.ID)
	}
	for _, o := range k.orders() {
		if o.Step != "" {
			known = append(known, o.Step)
		}
	}
	return nil, fmt.Errorf("the kit has no piece, wire or step called %q%s", plain.Text(name), format.DidYouMean(name, known))
}

// orders lists what the file says about when each step is done.
func (k *Kit) orders() []*Order {
	var list []*Order
	for _, j := range k.Joins {
		list = append(list, &j.Order)
	}
	for _, w := range k.Wires {
		list = append(list, &w.Order)
	}
	for _, t := range k.Tasks {
		list = append(list, &t.Order)
	}
	return list
}
