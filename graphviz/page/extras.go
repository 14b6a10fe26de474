package page

import (
	"context"
	"encoding/json"
	"net/http"
	"strconv"
	"strings"
	"sync"

	"dryfit/plan"
	"dryfit/plan/rehearse"
)

// Maker makes what the page shows besides the model and takes longer than loading
// the kit. It is called on demand. Each field may be nil.
type Maker struct {
	// Pictures draws the steps of a proven order: SVG files by the numbers of the steps.
	Pictures func(context.Context, *plan.Project) (map[int][]byte, error)
	// Plates plans the printing of a kit that names printers.
	Plates func(context.Context, *plan.Project) (*Plates, error)
	// Days plans the days of a proven order that states times.
	Days func(*plan.Project, *plan.Schedule) (*Days, error)
}

// Plates is a printing plan.
type Plates struct {
	Says     string         `json:"says"`
	Findings []plan.Finding `json:"findings"`
	List     []Plate        `json:"plates"`
}

// Plate is the pieces printed together.
type Plate struct {
	Title   string    `json:"title"`
	Says    string    `json:"says"`
	Parts   []Printed `json:"parts"`
	Drawing []byte    `json:"-"` // SVG
}

// Printed is the pieces of one part on a plate. Not all are pieces of the model.
type Printed struct {
	Name   string   `json:"name"`
	Pieces []string `json:"pieces"` // ids
}

// Days is a plan of the working days.
type Days struct {
	Says  string `json:"says"`
	Days  []Day  `json:"days"`
	Drawn bool   `json:"drawn"`
	Chart []byte `json:"-"` // SVG; nil if it is not drawn
}

// Day is the steps that start on a day.
type Day struct {
	Number int         `json:"number"`
	Steps  []TimedStep `json:"steps"`
}

// TimedStep is a step with its times, in words.
type TimedStep struct {
	Number  int    `json:"number"` // 0 for painting
	Text    string `json:"text"`
	Start   string `json:"start"`
	Takes   string `json:"takes"`
	Sets    string `json:"sets"`
	Decides bool   `json:"decides"` // it is on the critical path
}

// extras makes each thing once, on the first request; nil if there is none.
type extras struct {
	pictures func() (map[int][]byte, error)
	plates   func() (*Plates, error)
	days     func() (*Days, error)
}

// newExtras returns the extras of a project. Work on them ends with the context.
func newExtras(ctx context.Context, make Maker, p *plan.Project) *extras {
	return &extras{
		pictures: once(func() (map[int][]byte, error) {
			if make.Pictures == nil || p.Sequence == nil || p.Meshes == nil {
				return nil, nil
			}
			return make.Pictures(ctx, p)
		}),
		plates: once(func() (*Plates, error) {
			if make.Plates == nil || len(p.Kit.Printers) == 0 {
				return nil, nil
			}
			plates, err := make.Plates(ctx, p)
			if err == nil {
				plates.Findings = local(plates.Findings, p.Kit.File)
			}
			return plates, err
		}),
		days: once(func() (*Days, error) {
			if make.Days == nil || !timed(p) {
				return nil, nil
			}
			s, err := rehearse.Usual(p)
			if err != nil {
				return nil, err
			}
			return make.Days(p, s)
		}),
	}
}

// once keeps what was made. What failed is tried again on the next request: a
// mesh may have been saved meanwhile.
func once[T any](make func() (T, error)) func() (T, error) {
	var mu sync.Mutex
	var kept T
	made := false
	return func() (T, error) {
		mu.Lock()
		defer mu.Unlock()
		if made {
			return kept, nil
		}
		v, err := make()
		if err == nil {
			kept, made = v, true
		}
		return v, err
	}
}

// timed reports whether the kit states times from which the days can be planned.
func timed(p *plan.Project) bool { return p.Sequence != nil && p.Sequence.Clock().HandsOn > 0 }

// file is the content of a file by its name, nil if there is none: plates.json, days.json,
// days.svg, picture/12.svg or plate/3.svg.
func (e *extras) file(name string) ([]byte, error) {
	kind, rest, _ := strings.Cut(name, "/")
	n, err := strconv.Atoi(strings.TrimSuffix(rest, ".svg"))
	numbered := err == nil && rest == strconv.Itoa(n)+".svg"
	switch {
	case kind == "picture" && numbered:
		list, err := e.pictures()
		return list[n], err
	case name == "plates.json", kind == "plate" && numbered:
		p, err := e.plates()
		switch {
		case p == nil || err != nil:
			return nil, err
		case kind == "plates.json":
			return json.Marshal(p)
		case n < 1 || n > len(p.List):
			return nil, nil
		}
		return p.List[n-1].Drawing, nil
	case name == "days.json", name == "days.svg":
		t, err := e.days()
		switch {
		case t == nil || err != nil:
			return nil, err
		case name == "days.json":
			return json.Marshal(t)
		}
		return t.Chart, nil
	}
	return nil, nil
}

// extra answers a request for a file of the extras.
func (s *server) extra(w http.ResponseWriter, name string) {
	e := s.state.extra()
	if e == nil {
		http.Error(w, "the kit has not been loaded yet", http.StatusNotFound)
		return
	}
	data, err := e.file(name)
	switch {
	case err != nil:
		http.Error(w, "it could not be made", http.StatusInternalServerError)
	case data == nil:
		http.Error(w, "there is none", http.StatusNotFound)
	default:
		w.Header().Set("Content-Type", map[bool]string{true: "image/svg+xml", false: "application/json"}[strings.HasSuffix(name, ".svg")])
		s.send(w, data)
	}
}
