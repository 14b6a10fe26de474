// Package picture holds finished drawings: lines, areas and texts on a page, and
// writes them as SVG. The packages above decide what they show.
//
// The output is deterministic: equal pictures give equal bytes.
package picture
