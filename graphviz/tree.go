// Package graphviz draws the assembly tree of a kit: a box for each build and a row for
// each step, from single pieces up to the finished model. Closings are white on black, and
// pieces that cannot be fitted are marked by words and frames, not by colour.
//
// Graphviz lays the tree out; SVG, PNG and PDF are painted from this one layout on one A3
// sheet, so that they look alike.
package graphviz

import (
	"bytes"
	"context"
	"fmt"

	"dryfit/graphviz/svg"
	"dryfit/plan"
)

// Formats lists the formats in which a tree can be drawn.
var Formats = []string{"svg", "pdf", "png", "dot"}

// Ours reports whether this package made a file, by the mark at a fixed position
// in each.
func Ours(file []byte) bool {
	switch {
	case bytes.HasPrefix(file, []byte(pngSignature)):
		return len(file) > pngHeader+8 && bytes.HasPrefix(file[pngHeader+4:], []byte(pngSoftware))
	case bytes.HasPrefix(file, []byte("%PDF-")):
		return bytes.Contains(file, []byte("/Producer ("+svg.Mark+")"))
	}
	return svg.Ours(file) || bytes.HasPrefix(file, []byte(dotStart))
}

// Tree draws the assembly tree of a kit in one of [Formats].
func Tree(ctx context.Context, rep *plan.Project, format string) ([]byte, error) {
	text, d, err := largest(ctx, rep)
	if err != nil {
		return nil, err
	}
	switch format {
	case "dot":
		return []byte(text), nil
	case "svg":
		return svgFile(d, sheetTitle(rep)), nil
	case "png":
		return pngImage(d)
	case "pdf":
		return pdf(d, sheetTitle(rep))
	}
	return nil, fmt.Errorf("a tree has no format %q", format)
}

// largest lays the tree out with boxes of several lengths and returns the layout
// that allows the largest drawing.
func largest(ctx context.Context, rep *plan.Project) (text string, best *drawing, err error) {
	limits := rowLimits
	if len(rep.Constraints.Steps) > mostCompared {
		limits = limits[len(limits)-1:]
	}
	tried := map[string]bool{}
	for _, maxRows := range limits {
		t := dot(rep, maxRows)
		if tried[t] {
			continue
		}
		tried[t] = true
		d, err := layOutDOT(ctx, t)
		if err != nil {
			return "", nil, err
		}
		if best == nil || onSheet(d).scale > onSheet(best).scale {
			text, best = t, d
		}
	}
	return text, best, nil
}
