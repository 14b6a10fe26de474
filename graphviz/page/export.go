package page

import (
	"bytes"
	"context"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strings"

	"dryfit/graphviz/svg"
	"dryfit/kits/stopping"
	"dryfit/plan"
)

// File is a file of a page that needs no server.
type File struct {
	Name string // with slashes
	Data []byte
}

// Files makes the page of a project, see [Export]; the same project makes the same files.
func Files(ctx context.Context, p *plan.Project, make Maker, warn func(string)) ([]File, error) {
	var shapes map[string]Shape
	m, err := stopping.Soon(ctx, func() (m *Model, err error) {
		m, shapes, err = build(p, p.Meshes.All(), nil)
		return m, err
	})
	if err != nil {
		return nil, err
	}
	e := newExtras(ctx, make, p)
	pictures, err := e.pictures()
	if err != nil {
		return nil, err
	}
	plates, err := e.plates()
	if err != nil {
		warn("the page is without plates: " + err.Error())
	}
	days, err := e.days()
	if err != nil {
		warn("the page is without days: " + err.Error())
	}
	if ctx.Err() != nil {
		return nil, ctx.Err()
	}
	model, err := script(m, plates, days)
	if err != nil {
		return nil, err
	}
	list := drawings(pictures, plates, days)
	var b bytes.Buffer
	b.WriteString(generated("//", ""))
	for _, name := range slices.Sorted(maps.Keys(shapes)) {
		fmt.Fprintf(&b, "dryfit.packed(%q, %q);\n", name, base64.StdEncoding.EncodeToString(shapes[name]))
	}
	list = append(list, File{"model.js", model}, File{"shapes.js", b.Bytes()})
	for _, name := range slices.Sorted(maps.Keys(assets)) {
		text := string(assets[name])
		switch {
		case name == "index.html":
			text = strings.Replace(text, `<script src="main.js">`, `<script src="shapes.js"></script>`+"\n"+`<script src="model.js"></script>`+"\n"+`<script src="main.js">`, 1)
		case strings.HasSuffix(name, ".css"):
			text = generated("/*", " */") + text
		default:
			text = generated("//", "") + text
		}
		list = append(list, File{name, []byte(text)})
	}
	return list, nil
}

// drawings are the SVG files.
func drawings(pictures map[int][]byte, plates *Plates, days *Days) []File {
	var list []File
	for _, n := range slices.Sorted(maps.Keys(pictures)) {
		list = append(list, File{fmt.Sprintf("picture/%d.svg", n), pictures[n]})
	}
	if plates != nil {
		for i, p := range plates.List {
			list = append(list, File{fmt.Sprintf("plate/%d.svg", i+1), p.Drawing})
		}
	}
	if days != nil && days.Drawn {
		list = append(list, File{"days.svg", days.Chart})
	}
	return list
}

// script sets what a page with a server would request: the model, plates and
// days.
func script(m *Model, plates *Plates, days *Days) ([]byte, error) {
	b := []byte(generated("//", ""))
	for _, v := range []struct {
		name  string
		value any
	}{{"dryfitModel", m}, {"dryfitPlates", plates}, {"dryfitDays", days}} {
		data, err := json.Marshal(v.value)
		if err != nil {
			return nil, err
		}
		b = fmt.Appendf(b, "window.%s = %s;\n", v.name, data)
	}
	return b, nil
}

func generated(open, end string) string { return open + " " + svg.Mark + end + "\n" }

// pictureStart is how the picture of a step starts.
const pictureStart = `<svg xmlns="http://www.w3.org/2000/svg" role="img"`

// ours reports whether a file is part of a page that was written earlier.
func ours(file []byte) bool {
	head, _, _ := bytes.Cut(file, []byte("\n"))
	if bytes.EqualFold(bytes.TrimSpace(head), []byte("<!DOCTYPE html>")) {
		_, rest, _ := bytes.Cut(file, []byte("\n"))
		head, _, _ = bytes.Cut(rest, []byte("\n"))
	}
	return bytes.Contains(head, []byte(svg.Mark)) || bytes.HasPrefix(head, []byte(pictureStart)) || svg.Ours(file)
}
