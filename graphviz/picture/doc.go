// Package picture holds finished drawings: lines, areas and texts on a page, and how they
// are written as SVG. What they show and how they came about is for the packages above.
//
// The output is deterministic: equal pictures give equal bytes.
package picture
