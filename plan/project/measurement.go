package project

import (
	"cmp"
	"context"
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"

	"dryfit/kits"
	"dryfit/kits/english"
	"dryfit/plan"
	"dryfit/plan/blocking"
)

// Measurement is all that geometry says of some pieces. Lengths are mm.
type Measurement struct {
	OK         bool           `json:"ok"`         // no fault was found
	Pitch      float64        `json:"pitch"`      // between sample lines
	Depth      float64        `json:"depth"`      // overlap that counts as touching
	Directions int            `json:"directions"` // looked along
	Pieces     []PieceFacts   `json:"pieces"`     // by their ids
	Pairs      []PairFacts    `json:"pairs"`      // that touch, nearly touch or overlap
	Steps      []StepFacts    `json:"steps"`      // of going together, the first first
	Locked     [][]string     `json:"locked"`     // groups of ids that cannot be taken apart
	Spaces     []SpaceFacts   `json:"spaces"`     // hollows of the model
	Mouth      float64        `json:"mouth"`      // openings narrower than this count as closed
	Findings   []plan.Finding `json:"findings"`   // faults first

	survey *Survey
	apart  *blocking.Apart
	spaces []Space
}

// PieceFacts is what was measured of one piece.
type PieceFacts struct {
	Piece     string     `json:"piece"`     // its id
	Triangles int        `json:"triangles"` // of its mesh
	Size      [3]float64 `json:"size"`      // of its box
	Min       [3]float64 `json:"min"`       // lowest corner of its box
	Volume    float64    `json:"volume"`    // mm3
	Area      float64    `json:"area"`      // mm2
	Euler     int        `json:"euler"`     // corners - edges + triangles
	Closed    bool       `json:"closed"`    // its surface has no holes

	ThinnestWall float64    `json:"thinnest_wall"` // of those sampled; 0 if none could be measured
	ThinAt       [3]float64 `json:"thin_at"`       // where that is
}

// PairFacts is what was measured of two pieces.
type PairFacts struct {
	Pieces  [2]string `json:"pieces"`  // their ids
	Contact float64   `json:"contact"` // mm2
	Gap     float64   `json:"gap"`     // between them
	Depth   float64   `json:"depth"`   // of overlap
	Volume  float64   `json:"volume"`  // of overlap, mm3
}

// StepFacts is one step of going together.
type StepFacts struct {
	Pieces   []string   `json:"pieces"`             // ids of what moves
	To       []string   `json:"to"`                 // ids of what they touch, most first; of all the rest if they touch nothing
	Legs     []LegFacts `json:"legs"`               // as the pieces travel to their seats
	Undercut float64    `json:"undercut,omitempty"` // width of undercuts that are passed over: a thread or a snap
	Text     string     `json:"text"`               // what is done
}

// LegFacts is a straight stretch of a way in. Distance is missing for the first of
// several legs, which begins out of the model, and for a single one.
type LegFacts struct {
	Toward   [3]float64 `json:"toward"`             // direction, of length 1
	Distance float64    `json:"distance,omitempty"` // of travel; left out for the first leg
}

// SpaceFacts is a hollow of the model.
type SpaceFacts struct {
	Name    string        `json:"name"`      // given by dryfit
	Volume  float64       `json:"volume"`    // mm3
	Min     [3]float64    `json:"min"`       // lowest corner of its box
	Max     [3]float64    `json:"max"`       // highest corner of its box
	Closers []CloserFacts `json:"closed_by"` // pieces that close it
	Holds   []string      `json:"holds"`     // ids of the pieces inside
	Text    string        `json:"text"`      // the same in words
}

// CloserFacts is a piece that closes a hollow.
type CloserFacts struct {
	Piece     string      `json:"piece"`      // its id
	Facing    string      `json:"facing"`     // axis: x, y or z
	WholeSide bool        `json:"whole_side"` // a whole side is open while it is off
	Opening   [2]float64  `json:"opening"`    // largest clear rectangle while it is off, along the other axes in the order x, y, z
	Passes    []PassFacts `json:"passes"`     // what the hollow holds, through the opening
}

// PassFacts is how a piece passes an opening, by the sizes of both.
type PassFacts struct {
	Piece string `json:"piece"` // its id
	Pass  string `json:"pass"`  // how: straight, only by turning, or not
}

// MeasureKit measures the meshes of a kit, which must name some.
func MeasureKit(ctx context.Context, path string, o Options) (*Measurement, error) {
	k, err := kits.ReadFile(path)
	if err != nil {
		return nil, err
	}
	if k.Meshes == "" {
		return nil, fmt.Errorf("%s names no meshes; add meshes: with the folder that holds them", kits.Plain(k.File))
	}
	_, s, err := surveyed(ctx, k, o)
	if err != nil {
		return nil, err
	}
	return s.measure(ctx)
}

// MeasureMeshes measures the meshes of a folder or a file that no kit names.
func MeasureMeshes(ctx context.Context, path string, o Options) (*Measurement, error) {
	if o.Measuring != nil {
		o.Measuring()
	}
	s, err := ofMeshes(ctx, path, o)
	if err != nil {
		return nil, err
	}
	return s.measure(ctx)
}

// measure takes the model apart and tells all that was found.
func (s *Survey) measure(ctx context.Context) (*Measurement, error) {
	apart, err := s.Model.TakeApart(ctx)
	if err != nil {
		return nil, err
	}
	m := &Measurement{Pitch: s.Model.Pitch, Depth: s.Model.Depth, Directions: len(s.Model.Directions), survey: s, apart: apart,
		Pieces: []PieceFacts{}, Pairs: []PairFacts{}, Steps: []StepFacts{}, Locked: [][]string{}, Spaces: []SpaceFacts{}, Findings: []plan.Finding{}}
	if err := s.examine(ctx); err != nil {
		return nil, err
	}
	for i, p := range s.Pieces {
		f := PieceFacts{Piece: s.IDs[i], Triangles: p.Len(), Size: p.Size(), Min: p.Min, Volume: p.Volume, Area: p.Area}
		if h := s.Health[i]; h != nil {
			f.Euler, f.Closed, f.ThinnestWall, f.ThinAt = h.Euler, h.Closed, h.ThinnestWall, h.ThinAt
		}
		m.Pieces = append(m.Pieces, f)
	}
	m.Findings = append(m.Findings, s.turnedFindings()...)
	m.Findings = append(m.Findings, s.healthFindings(s.kit, true)...)
	for _, p := range s.Model.Pairs {
		m.Pairs = append(m.Pairs, PairFacts{[2]string{s.IDs[p.A], s.IDs[p.B]}, p.Contact, p.Gap, p.Depth, p.Volume})
	}
	for _, v := range slices.Backward(apart.Moves) {
		m.Steps = append(m.Steps, s.step(v))
	}
	if err := m.findings(ctx); err != nil {
		return nil, err
	}
	if m.spaces, m.Mouth, err = s.findSpaces(ctx); err != nil {
		return nil, err
	}
	for i := range m.spaces {
		m.Spaces = append(m.Spaces, s.facts(&m.spaces[i]))
	}
	s.keep()
	m.OK = !slices.ContainsFunc(m.Findings, func(f plan.Finding) bool { return f.Grade == plan.Fault })
	return m, nil
}

// step reads a move backwards.
func (s *Survey) step(v blocking.Move) StepFacts {
	f := StepFacts{Pieces: s.names(v.Pieces), To: s.names(s.touched(v)), Legs: []LegFacts{}}
	var ways []string
	for i := range v.Legs {
		l := v.Legs[len(v.Legs)-1-i]
		in := LegFacts{Toward: back(l.Toward)}
		way := "toward " + english.Direction(in.Toward)
		if !math.IsInf(l.Distance, 1) {
			in.Distance = l.Distance
			way = fmt.Sprintf("%.1f mm %s", l.Distance, way)
		}
		f.Legs = append(f.Legs, in)
		ways = append(ways, way)
	}
	f.Text = fmt.Sprintf("%s onto %s, %s", some(f.Pieces), some(f.To), strings.Join(ways, ", then "))
	if f.Undercut = v.Undercut; f.Undercut > 0 {
		f.Text += fmt.Sprintf(", past an undercut of up to %s mm: a thread to turn in, or a snap", trim(f.Undercut))
	}
	return f
}

// touched lists the pieces of the rest that a move's pieces touch, those they touch
// most first.
func (s *Survey) touched(v blocking.Move) []int {
	contact := map[int]float64{}
	var list []int
	for _, r := range v.Rest {
		for _, p := range v.Pieces {
			if pair := s.Model.Pair(p, r); pair != nil && (pair.Contact > 0 || pair.Depth > 0) {
				contact[r] += max(pair.Contact, 1e-6)
			}
		}
		if contact[r] > 0 {
			list = append(list, r)
		}
	}
	if len(list) == 0 {
		return v.Rest
	}
	slices.SortStableFunc(list, func(a, b int) int { return cmp.Compare(contact[b], contact[a]) })
	return list
}

func back(d [3]float64) [3]float64 { return [3]float64{0 - d[0], 0 - d[1], 0 - d[2]} }

func (s *Survey) names(list []int) []string {
	out := make([]string, len(list))
	for i, p := range list {
		out[i] = s.IDs[p]
	}
	return out
}

// some names a few of many.
func some(names []string) string {
	switch n := len(names); {
	case n == 1:
		return names[0]
	case n > 5:
		return fmt.Sprintf("%s and %d others", strings.Join(names[:3], ", "), n-3)
	default:
		return strings.Join(names[:n-1], ", ") + " and " + names[n-1]
	}
}

// findings says what is wrong.
func (m *Measurement) findings(ctx context.Context) error {
	s := m.survey
	clashing := false
	for _, p := range s.Model.Pairs {
		if p.Depth == 0 {
			continue
		}
		clashing = true
		m.Findings = append(m.Findings, plan.Finding{Kind: plan.Clashes, Grade: plan.Fault, Piece: s.IDs[p.A], Pieces: []string{s.IDs[p.A], s.IDs[p.B]},
			Text:    fmt.Sprintf("%s and %s overlap by %s mm (%s mm3)", s.IDs[p.A], s.IDs[p.B], trim(p.Depth), trim(p.Volume)),
			Because: []plan.Reason{}, Repairs: []plan.Repair{}})
	}
	m.Findings = append(m.Findings, s.looseFindings()...)
	for _, l := range m.apart.Locked {
		m.Locked = append(m.Locked, s.names(l.Pieces))
		m.Findings = append(m.Findings, s.lockFinding(l))
	}
	if !clashing {
		return nil
	}
	strict, err := s.Model.TakeApartStrictly(ctx)
	if err != nil {
		return err
	}
	var caught []string
	free := lockedPieces(m.apart)
	for p := range lockedPieces(strict) {
		if !free[p] {
			caught = append(caught, s.IDs[p])
		}
	}
	if slices.Sort(caught); len(caught) > 0 {
		m.Findings = append(m.Findings, plan.Finding{Kind: plan.Clashes, Grade: plan.Note, Because: []plan.Reason{}, Repairs: []plan.Repair{},
			Text: fmt.Sprintf("only because of these overlaps %d pieces could not be taken apart: %s; the sequence leaves the overlaps aside", len(caught), some(caught))})
	}
	return nil
}

// looseFindings names the pieces that touch no other.
func (s *Survey) looseFindings() []plan.Finding {
	touched := make([]bool, len(s.Pieces))
	for _, p := range s.Model.Pairs {
		if p.Contact > 0 || p.Depth > 0 {
			touched[p.A], touched[p.B] = true, true
		}
	}
	var list []plan.Finding
	for i, m := range s.Pieces {
		if !touched[i] && m.Len() > 0 && len(s.Pieces) > 1 {
			list = append(list, plan.Finding{Kind: plan.Loose, Grade: plan.Caution, Piece: s.IDs[i], Because: []plan.Reason{}, Repairs: []plan.Repair{},
				Text: fmt.Sprintf("%s touches no other piece (nothing is within %s mm of it)", s.IDs[i], trim(s.Model.Touch))})
		}
	}
	return list
}

func lockedPieces(a *blocking.Apart) map[int]bool {
	in := map[int]bool{}
	for _, l := range a.Locked {
		for _, p := range l.Pieces {
			in[p] = true
		}
	}
	return in
}

// maxHolds bounds how many reasons of one lock are told.
const maxHolds = 12

func (s *Survey) lockFinding(l blocking.Lock) plan.Finding {
	names := s.names(l.Pieces)
	f := plan.Finding{Kind: plan.Blocked, Grade: plan.Fault, Piece: names[0], Pieces: names, Because: []plan.Reason{}, Repairs: []plan.Repair{},
		Text: fmt.Sprintf("%s are locked: no piece and no group of them leaves by straight moves, alone or in up to %d legs", some(names), blocking.MaxLegs)}
	said := map[[2]int]bool{}
	for _, h := range l.Holds {
		if len(f.Because) == maxHolds {
			break
		}
		if said[[2]int{h.Piece, h.By}] {
			continue
		}
		said[[2]int{h.Piece, h.By}] = true
		f.Because = append(f.Because, plan.Reason{Text: fmt.Sprintf("%s cannot leave toward %s: %s is in its way", s.IDs[h.Piece], english.Direction(h.Direction), s.IDs[h.By])})
	}
	return f
}

// Contacts is the number of pairs that touch.
func (m *Measurement) Contacts() int {
	n := 0
	for _, p := range m.Pairs {
		if p.Contact > 0 {
			n++
		}
	}
	return n
}

// Verdict says in one line what was found.
func (m *Measurement) Verdict() string {
	locked, faults := 0, 0
	for _, l := range m.Locked {
		locked += len(l)
	}
	for _, f := range m.Findings {
		if f.Grade == plan.Fault {
			faults++
		}
	}
	text := fmt.Sprintf("%s together in %s", many(len(m.Pieces), "piece goes", "pieces go"), many(len(m.Steps), "step", "steps"))
	if locked > 0 {
		text += fmt.Sprintf("; %d are locked", locked)
	}
	switch faults {
	case 0:
		return text + "."
	case 1:
		return text + ". 1 fault to mend."
	}
	return fmt.Sprintf("%s. %d faults to mend.", text, faults)
}

func many(n int, one, several string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, several)
}

// Draft writes a first kit file for meshes that stand at a path relative to it. file
// is where it will stand. The spaces that were found are written too, unless the kit
// has no order with them: sizes are boxes, and may say that what goes in by a bend
// does not.
func (m *Measurement) Draft(ctx context.Context, file, name, meshes, unit string, mmPerUnit float64) ([]byte, *plan.Project, error) {
	var text []byte
	var rep *plan.Project
	for _, spaces := range [][]Space{m.spaces, nil} {
		text = m.survey.draft(name, meshes, unit, mmPerUnit, m.apart, spaces)
		k, err := kits.Read(file, text)
		if err != nil {
			return nil, nil, err
		}
		o := m.survey.options
		o.Fresh = false
		if rep, err = Of(ctx, k, o); err != nil {
			return nil, nil, err
		}
		if !slices.ContainsFunc(rep.Findings, func(f plan.Finding) bool { return f.Kind != plan.Clashes && f.Kind != plan.Blocked }) {
			break
		}
	}
	return text, rep, nil
}

// MarshalJSON leaves out what JSON cannot say: a gap that was not measured.
func (p PairFacts) MarshalJSON() ([]byte, error) {
	type plain PairFacts
	if math.IsNaN(p.Gap) {
		p.Gap = 0
	}
	return json.Marshal(plain(p))
}
