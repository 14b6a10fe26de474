package graphviz

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"sync"

	"github.com/goccy/go-graphviz"

	"dryfit/graphviz/cachedir"
)

func init() { cachedir.Restore() }

// op is one drawing operation in Graphviz's JSON output (the xdot operations).
type op struct {
	Op     string       `json:"op"`
	Grad   string       `json:"grad"`
	Color  string       `json:"color"`
	Points [][2]float64 `json:"points"`
	Rect   [4]float64   `json:"rect"`
	Size   float64      `json:"size"`
	Face   string       `json:"face"`
	Pt     [2]float64   `json:"pt"`
	Align  string       `json:"align"`
	Width  float64      `json:"width"`
	Text   string       `json:"text"`
	Flags  int          `json:"fontchar"`
	Style  string       `json:"style"`
}

// drawing is a finished layout in points (1/72 inch), y upwards from the bottom.
type drawing struct {
	width, height float64
	objects       [][]op // each starts with a fresh pen
}

// drawn holds the drawing operations of a Graphviz object.
type drawn struct {
	Draw   []op `json:"_draw_"`
	Label  []op `json:"_ldraw_"`
	Head   []op `json:"_hdraw_"`
	Tail   []op `json:"_tdraw_"`
	HLabel []op `json:"_hldraw_"`
	TLabel []op `json:"_tldraw_"`
}

func (d drawn) all() []op {
	var list []op
	for _, part := range [][]op{d.Draw, d.Head, d.Tail, d.Label, d.HLabel, d.TLabel} {
		list = append(list, part...)
	}
	return list
}

// The library shares one memory between its instances, so only one may run at a
// time.
var library sync.Mutex

// layOutDOT has Graphviz lay out a DOT text.
func layOutDOT(ctx context.Context, text string) (d *drawing, err error) {
	library.Lock()
	defer library.Unlock()
	defer func() {
		// The library panics on some errors.
		if r := recover(); r != nil {
			d, err = nil, fmt.Errorf("the drawing library failed: %v", r)
		}
	}()
	gv, err := graphviz.New(ctx)
	if err != nil {
		return nil, fmt.Errorf("the drawing library did not start: %w", err)
	}
	defer gv.Close()
	g, err := graphviz.ParseBytes([]byte(text))
	if err != nil {
		return nil, fmt.Errorf("the drawing library did not read the tree: %w", err)
	}
	defer g.Close()
	var out bytes.Buffer
	if err := gv.Render(ctx, g, graphviz.Format("json"), &out); err != nil {
		return nil, fmt.Errorf("the drawing library did not lay out the tree: %w", err)
	}
	return parseLayout(out.Bytes())
}

func parseLayout(data []byte) (*drawing, error) {
	var g struct {
		drawn
		BB      string  `json:"bb"`
		Objects []drawn `json:"objects"`
		Edges   []drawn `json:"edges"`
	}
	if err := json.Unmarshal(data, &g); err != nil {
		return nil, fmt.Errorf("the drawing library gave no layout: %w", err)
	}
	var x0, y0, x1, y1 float64
	if n, err := fmt.Sscanf(g.BB, "%f,%f,%f,%f", &x0, &y0, &x1, &y1); n != 4 {
		return nil, fmt.Errorf("the drawing library gave no size: %w", err)
	}
	d := &drawing{width: x1 - x0, height: y1 - y0}
	d.objects = append(d.objects, g.all())
	for _, list := range [][]drawn{g.Edges, g.Objects} {
		for _, o := range list {
			d.objects = append(d.objects, o.all())
		}
	}
	return d, nil
}
