package draft

import (
	"context"
	"encoding/json"
	"math"

	"dryfit/kits"
	"dryfit/kits/geom"
	"dryfit/plan"
	"dryfit/plan/blocking"
	"dryfit/plan/project"
)

// Measurement is what the meshes say of some pieces. Lengths are mm, in the model's axes.
type Measurement struct {
	OK         bool           `json:"ok"`         // no fault was found
	Pitch      float64        `json:"pitch"`      // between sample lines
	Depth      float64        `json:"depth"`      // overlap that counts as touching
	Directions int            `json:"directions"` // number of directions measured
	Pieces     []Piece        `json:"pieces"`     // all of them, by name of mesh or as in the kit
	Pairs      []Pair         `json:"pairs"`      // that touch, nearly touch or overlap
	Builds     []Build        `json:"builds"`     // the sub-builds in the order of their letters, then the main build
	Steps      []Step         `json:"steps"`      // how the pieces go together, the first step first
	Locked     [][]string     `json:"locked"`     // groups that no move takes apart
	Spaces     []Space        `json:"spaces"`     // hollows of the model, the largest first
	Cell       float64        `json:"cell"`       // edge of the cells in which spaces were looked for
	Fit        float64        `json:"fit"`        // pieces no further apart than this are neighbours
	Findings   []plan.Finding `json:"findings"`   // what is wrong with the meshes

	survey      *project.Survey
	options     project.Options
	disassembly *blocking.Disassembly
	hollows     []blocking.Hollow
	faces       []blocking.Faces
	draft       *draft
}

// Piece is what was measured of one piece.
type Piece struct {
	Piece        string   `json:"piece"`         // its id
	Triangles    int      `json:"triangles"`     // of its mesh
	Size         geom.Vec `json:"size"`          // of the box around it
	Min          geom.Vec `json:"min"`           // lowest corner of that box
	Volume       float64  `json:"volume"`        // mm3
	Area         float64  `json:"area"`          // mm2
	Euler        int      `json:"euler"`         // corners - edges + triangles
	Closed       bool     `json:"closed"`        // its surface has no open edge
	ThinnestWall float64  `json:"thinnest_wall"` // among those sampled; 0 if none could be measured
	ThinAt       geom.Vec `json:"thin_at"`       // where that wall is
}

// Pair is what was measured of two pieces.
type Pair struct {
	Pieces  [2]string `json:"pieces"`  // their ids
	Contact float64   `json:"contact"` // area that touches, mm2
	Gap     float64   `json:"gap"`     // mean over the contact, or the smallest gap
	Depth   float64   `json:"depth"`   // of overlap; 0 if they do not overlap
	Volume  float64   `json:"volume"`  // of overlap, mm3
}

// Build is a sub-build, which is finished on the bench, or the main build.
type Build struct {
	Build  string   `json:"build"`  // its letter, or main
	Base   string   `json:"base"`   // the piece that it is built on
	Pieces []string `json:"pieces"` // that are fitted in it, in their order
}

// Step is one step of the assembly.
type Step struct {
	Pieces   []string `json:"pieces"`             // that are fitted, with all that is on them by then
	To       []string `json:"to"`                 // what they are fitted to, or closed on
	Build    string   `json:"build,omitempty"`    // main, or the letter of the sub-build that the step belongs to
	Legs     []Leg    `json:"legs"`               // in travel order
	Undercut float64  `json:"undercut,omitempty"` // width of undercuts that it passes: a thread or a snap
	Text     string   `json:"text"`               // the step in words
}

// Leg is a straight leg of a way in.
type Leg struct {
	Toward   geom.Vec `json:"toward"`             // of length 1
	Distance float64  `json:"distance,omitempty"` // missing for the first, which starts outside the model
}

// Space is a hollow of the model.
type Space struct {
	Name    string   `json:"name"`      // space-1 is the largest
	Volume  float64  `json:"volume"`    // mm3
	Min     geom.Vec `json:"min"`       // lowest corner of the box around it
	Max     geom.Vec `json:"max"`       // highest corner of that box
	Closers []Closer `json:"closed_by"` // the pieces that shut it
	Holds   []string `json:"holds"`     // the pieces in it
	Text    string   `json:"text"`      // the space in words
}

// Closer is a piece that shuts a hollow.
type Closer struct {
	Piece     string     `json:"piece"`      // its id
	Facing    string     `json:"facing"`     // axis across which it shuts: x, y or z
	WholeSide bool       `json:"whole_side"` // a whole side is open while it is off
	Opening   [2]float64 `json:"opening"`    // largest clear rectangle while it is off, along the other two axes in the order x, y, z
	Passes    []Pass     `json:"passes"`     // what the hollow holds, through the opening
}

// Pass is how a piece passes an opening, judged by their sizes.
type Pass struct {
	Piece string `json:"piece"` // its id
	Pass  string `json:"pass"`  // straight in, only by turning, or cannot
}

// MarshalJSON leaves out a gap that was not measured, which is not a number.
func (p Pair) MarshalJSON() ([]byte, error) {
	type plain Pair
	if math.IsNaN(p.Gap) {
		p.Gap = 0
	}
	return json.Marshal(plain(p))
}

// MeasureKit measures the meshes of a kit, which must name some.
func MeasureKit(ctx context.Context, path string, o project.Options) (*Measurement, error) {
	k, err := kits.ReadFile(path)
	if err != nil {
		return nil, err
	}
	o.Walls = true
	s, err := project.SurveyKit(ctx, k, o)
	if err != nil {
		return nil, err
	}
	if o.Fit == 0 {
		o.Fit = k.Fit
	}
	return measure(ctx, s, o)
}

// MeasureMeshes measures the meshes of a folder or a file that no kit names.
func MeasureMeshes(ctx context.Context, path string, o project.Options) (*Measurement, error) {
	o.Walls = true
	s, err := project.SurveyMeshes(ctx, path, o)
	if err != nil {
		return nil, err
	}
	if o.Fit == 0 {
		o.Fit = kits.DefaultFit
	}
	return measure(ctx, s, o)
}

// measure takes the model apart and reports all that was found.
func measure(ctx context.Context, s *project.Survey, o project.Options) (m *Measurement, err error) {
	m = &Measurement{Pitch: s.Model.Pitch, Depth: s.Model.Depth, Directions: len(s.Model.Directions), Fit: o.Fit, survey: s, options: o,
		Pieces: []Piece{}, Pairs: []Pair{}, Builds: []Build{}, Steps: []Step{}, Locked: [][]string{}, Spaces: []Space{}, Findings: []plan.Finding{}}
	if m.disassembly, err = s.Model.Disassemble(ctx); err != nil {
		return nil, err
	}
	m.pieces()
	for _, l := range m.disassembly.Locked {
		m.Locked = append(m.Locked, m.names(l.Pieces))
	}
	if err := s.ExamineWhile(ctx, func() error { return m.order(ctx) }); err != nil {
		return nil, err
	}
	m.examined()
	m.Steps, m.Builds = m.draft.steps(), m.draft.builds()
	for i := range m.draft.spaces {
		m.Spaces = append(m.Spaces, m.draft.tell(i))
	}
	if m.Findings, err = m.findings(ctx); err != nil {
		return nil, err
	}
	s.Store()
	m.OK = plan.CountOf(m.Findings, plan.Fault) == 0
	return m, nil
}

// order finds an order that a person would choose, from faces and hollows.
func (m *Measurement) order(ctx context.Context) (err error) {
	if m.faces, err = m.survey.Model.Faces(ctx, m.Fit); err != nil {
		return err
	}
	if m.hollows, m.Cell, err = m.survey.Model.Hollows(ctx, m.faces); err != nil {
		return err
	}
	m.draft, err = m.design(ctx)
	return err
}

// pieces fills in what was measured of each piece and each pair.
func (m *Measurement) pieces() {
	s := m.survey
	for i, p := range s.Pieces {
		m.Pieces = append(m.Pieces, Piece{Piece: s.IDs[i], Triangles: p.Len(), Size: p.Size(), Min: p.Min, Volume: p.Volume, Area: p.Area})
	}
	for _, p := range s.Model.Pairs {
		m.Pairs = append(m.Pairs, Pair{[2]string{s.IDs[p.A], s.IDs[p.B]}, p.Contact, p.Gap, p.Depth, p.Volume})
	}
}

// examined adds what was found of each mesh.
func (m *Measurement) examined() {
	for i, h := range m.survey.Health {
		if p := &m.Pieces[i]; h != nil {
			p.Euler, p.Closed, p.ThinnestWall, p.ThinAt = h.Euler, h.Closed, h.ThinnestWall, h.ThinAt
		}
	}
}

func (m *Measurement) names(list []int) []string {
	out := make([]string, len(list))
	for i, p := range list {
		out[i] = m.survey.IDs[p]
	}
	return out
}
