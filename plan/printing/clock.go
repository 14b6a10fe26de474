package printing

import (
	"math"
	"time"

	"dryfit/kits"
)

// Band is a time known to lie between Low and High. A Low of 0 means that only
// the upper bound is known.
type Band struct{ Low, High time.Duration }

// Plus is one time after another.
func (b Band) Plus(o Band) Band { return Band{sum(b.Low, o.Low), sum(b.High, o.High)} }

// maxTime bounds the time of a plate and maxSum that of many, since a Duration holds no more
// than 292 years. What takes longer counts as that, and is told.
const (
	year    = 366 * 24 * time.Hour
	maxTime = 10 * year
	maxSum  = 200 * year
)

func sum(a, b time.Duration) time.Duration {
	a = min(a, maxSum)
	return a + min(b, maxSum-a)
}

// Assumptions states what the times assume.
var Assumptions = map[string]string{
	kits.Resin:    "Resin: a plate takes as long as its tallest piece has layers, with the height by which supports raise it, however many pieces are on it: layers times exposure and motion, the base layers for longer. Layers are those of the pieces without supports. Supports fill a share of the room under what leans out at 45 degrees from the bed or less; both are keys of the printer's support.",
	kits.Filament: "Filament: a plate takes its volume, supports included, by the flow, times the overhead; pieces count as solid, or filled inside walls of 1.2 mm as the kit says. Supports fill a share of the room under what leans out at less than 45 degrees from the bed and is no bridge; all three are keys of the printer's support.",
}

// resinTime is how long a plate takes whose tallest piece has the given height in
// mm: the screen exposes a whole layer at once, no matter how full the plate is.
// The base layers are exposed for longer instead of as usual.
func resinTime(p *kits.Printer, height float64) time.Duration {
	layers := math.Ceil(height/p.Layer - 1e-6)
	base := min(float64(p.BaseLayers), layers)
	t := layers*float64(p.Motion) + (layers-base)*float64(p.Exposure) + base*float64(p.BaseExposure)
	return time.Duration(min(t, float64(maxTime)))
}

// filamentTime is how long a volume in mm3 takes.
func filamentTime(p *kits.Printer, volume float64) Band {
	t := func(overhead float64) time.Duration {
		return time.Duration(min(volume/p.Flow*overhead*float64(time.Second), float64(maxTime)))
	}
	return Band{t(p.Overhead[0]), t(p.Overhead[1])}
}

// strand is the cross-section of filament 1.75 mm thick, mm2.
const strand = math.Pi * 1.75 * 1.75 / 4

// mass is the mass in grams of a volume in mm3 of a material.
func mass(volume float64, m *kits.Material) float64 { return volume / 1000 * m.Density }

// strandLength is how much filament a volume in mm3 takes, in metres.
func strandLength(volume float64) float64 { return volume / strand / 1000 }
