package page

import (
	"bytes"
	"context"
	"net/http"
	"strconv"
	"strings"
	"sync"

	"dryfit/kits/mesh"
	"dryfit/plan"
)

// Pictures draws the steps of a proven order, each as an SVG file, by the numbers of
// the steps.
type Pictures func(context.Context, *plan.Report, []*mesh.Mesh) (map[int][]byte, error)

// album draws the pictures of a report when the first of them is asked for.
type album struct {
	draw   Pictures
	rep    *plan.Report
	meshes []*mesh.Mesh

	once sync.Once
	list map[int][]byte
	err  error
}

func (a *album) picture(ctx context.Context, step int) ([]byte, error) {
	a.once.Do(func() {
		if a.draw != nil && a.rep.Sequence != nil && a.meshes != nil {
			a.list, a.err = a.draw(ctx, a.rep, a.meshes)
		}
		a.rep, a.meshes = nil, nil // no longer needed
	})
	return a.list[step], a.err
}

// picture answers for the picture of a step, named picture/12.svg.
func (s *Server) picture(w http.ResponseWriter, r *http.Request, name string) {
	n, err := strconv.Atoi(strings.TrimSuffix(name, ".svg"))
	a := s.state.pictures()
	if err != nil || a == nil {
		http.NotFound(w, r)
		return
	}
	data, err := a.picture(context.WithoutCancel(r.Context()), n)
	switch {
	case err != nil:
		http.Error(w, "the picture could not be made", http.StatusInternalServerError)
	case data == nil:
		http.NotFound(w, r)
	default:
		w.Header().Set("Content-Type", "image/svg+xml")
		s.send(w, data)
	}
}

// Standalone makes an SVG element of a page a file of its own.
func Standalone(svg []byte) []byte {
	return bytes.Replace(svg, []byte("<svg "), []byte(`<svg xmlns="http://www.w3.org/2000/svg" `), 1)
}
