// Package coupon shapes a small test print with the fits of a kit, at five clearances each,
// from which a builder finds the clearance of his printer.
//
// A coupon is two plates for each process that the kit prints with: one with holes, pockets
// and grooves, one with the peg and the tongue to try in them. Lengths are mm; clearances
// are in all, not on each side, as clearance in a kit file is.
package coupon

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"dryfit/kits"
	"dryfit/kits/mesh"
)

// Steps is how many clearances are tried: the first has one raised dot, the last five.
const Steps = 5

// Step is what a clearance grows by from one to the next (common practice: fits of resin
// from 0.05 to 0.25 mm on each side, of filament from 0.1 to 0.5 mm).
var Step = map[string]float64{kits.Resin: 0.1, kits.Filament: 0.2}

// The peg and the tongue (ours).
const (
	pegWidth    = 5.0
	tongueWide  = 10.0
	tongueThick = 2.0
	standing    = 6.0 // height of both above their plate
)

// maxKinds limits how many diameters of magnets, and of rods, are tried: the first in the
// kit.
const maxKinds = 3

// Row is a fit at all its clearances, in a row of the plate.
type Row struct {
	What   string  // in words
	Across float64 // of what goes in
	Depth  float64 // of a pocket; 0 for a hole right through
	groove bool
}

// Clearance is that of the column with so many dots, from 1.
func Clearance(process string, dots int) float64 { return float64(dots) * Step[process] }

// Plate is one piece of a coupon.
type Plate struct {
	Name    string
	Process string
	Rows    []Row // from the side that is named; empty for the plate with peg and tongue
	Mesh    *mesh.Mesh
}

// Make shapes the plates of a kit. A kit that does not say how it prints gets those of
// resin. The error is that a size of the kit makes no shape.
func Make(k *kits.Kit) ([]Plate, error) {
	var list []Plate
	for _, process := range []string{kits.Resin, kits.Filament} {
		if !slices.ContainsFunc(k.Parts, func(p *kits.Part) bool { return p.ToPrint() && processOf(p) == process }) {
			continue
		}
		rows := rowsOf(k)
		for _, p := range []Plate{{Name: process + " holes", Rows: rows}, {Name: process + " pegs"}} {
			b := &builder{}
			if p.Rows != nil {
				b.holes(rows, process)
			} else {
				b.pegs()
			}
			m, err := mesh.FromTriangles(p.Name, b.list)
			if err = cmp.Or(b.err, err); err != nil {
				return nil, fmt.Errorf("the coupon cannot be shaped: %w", err)
			}
			p.Process, p.Mesh = process, m
			list = append(list, p)
		}
	}
	return list, nil
}

// processOf is how a part is printed; resin if the kit does not say.
func processOf(p *kits.Part) string {
	if p.Printed == "" {
		return kits.Resin
	}
	return p.Printed
}

// rowsOf are the fits of a kit: a printed peg and tongue, its magnets, and what is round and
// goes through prints.
func rowsOf(k *kits.Kit) []Row {
	rows := []Row{
		{What: fmt.Sprintf("peg of %g mm in a hole", pegWidth), Across: pegWidth},
		{What: fmt.Sprintf("tongue of %g x %g mm in a groove", tongueWide, tongueThick), Across: tongueThick, groove: true},
	}
	magnets, _ := magnetRows(k)
	rows = append(rows, magnets...)
	return append(rows, rodRows(k)...)
}

// LeftOut are the magnets of a kit that no pocket is made for, in words: those above the
// limits of size, and all kinds after the first three.
func LeftOut(k *kits.Kit) []string {
	_, left := magnetRows(k)
	return left
}

// magnetRows are the pockets of the kit's magnets, one for each size, and the magnets that
// have none.
func magnetRows(k *kits.Kit) (rows []Row, left []string) {
	for i, pc := range k.Pieces {
		if k.MagnetsOf(i) == nil || pc.Part.Size == nil {
			continue
		}
		d, h, round := disc(pc.Part)
		what := fmt.Sprintf("magnet of %g x %g mm", d, h)
		row := Row{What: what + " in a pocket", Across: d, Depth: h + pocketDeeper}
		switch {
		case !round || slices.Contains(rows, row):
		case d <= largestMagnet && h <= thickestMagnet && len(rows) < maxKinds:
			rows = append(rows, row)
		case !slices.Contains(left, what):
			left = append(left, what)
		}
	}
	return rows, left
}

// The largest magnet that is tried, mm (ours): five pockets of it still go on a bed, and take
// little material.
const (
	largestMagnet  = 25.0
	thickestMagnet = 10.0
)

// pocketDeeper is how much deeper than its magnet a pocket is (common practice: 0.1 to 0.2).
const pocketDeeper = 0.15

// rodRows are holes for rods and tubes: what is bought or made, and slender.
func rodRows(k *kits.Kit) []Row {
	var rows []Row
	for i, pc := range k.Pieces {
		p := pc.Part
		if p.ToPrint() || p.Size == nil || k.MagnetsOf(i) != nil {
			continue
		}
		d, length, round := disc(p)
		row := Row{What: fmt.Sprintf("rod or tube of %g mm in a hole", d), Across: d}
		if round && length >= slender*d && d <= largestRod && len(rows) < maxKinds && !slices.Contains(rows, row) {
			rows = append(rows, row)
		}
	}
	return rows
}

// slender is how many times as long as wide a rod is at least (ours): the size alone does not
// tell a round piece from a square one.
const slender = 5

// largestRod is the thickest rod that is tried: what is thicker is not fitted as a rod.
const largestRod = 8.0

// disc is the diameter and the length of what is as wide as high along one axis.
func disc(p *kits.Part) (diameter, length float64, round bool) {
	s := p.Size.XYZ
	for k := range 3 {
		a, b := s[(k+1)%3], s[(k+2)%3]
		if math.Abs(a-b) < 1e-6 && math.Abs(s[k]-a) > 1e-6 {
			return a, s[k], true
		}
	}
	return 0, 0, false
}
