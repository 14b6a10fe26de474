package kits

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"dryfit/kits/plain"
)

// Scaling converts a model from one scale to another.
type Scaling struct {
	Factor   float64 // a length at the new scale divided by the same length at the old
	From, To string  // the scales, "1:32"; empty if the kit states none
	// Near is the integer scale that a percentage was most likely rounded from,
	// empty if it is exact: 66.7 % of 1:32 is 1:47.98, but means 1:48.
	Near string
}

// Limits of a scaling. The usual scales are 8 to 1200 % of each other.
const (
	minFactor = 0.01
	maxFactor = 100
)

var shareRegexp = regexp.MustCompile(`^([0-9]{1,9}(?:\.[0-9]{1,9})?) ?%$`)

// ParseScaling reads a scale, "1:24", or a percentage, "160%" or "160 %", for a kit of
// the scale from, which may be empty. The error says what is wrong with it.
func ParseScaling(text, from string) (Scaling, error) {
	text = strings.TrimSpace(text)
	s := Scaling{From: from}
	percent := shareRegexp.FindStringSubmatch(text)
	switch {
	case percent != nil:
		v, _ := strconv.ParseFloat(percent[1], 64) // the pattern lets only digits through
		s.Factor = v / 100
	case !scaleRegexp.MatchString(text):
		return s, fmt.Errorf("%q is neither a scale such as 1:24 nor a percentage such as 66.7%%", plain.Text(text))
	case from == "":
		return s, fmt.Errorf("the kit has no scale to compare %s with; add scale: to the kit file, or give a percentage", plain.Text(text))
	default:
		s.Factor = scaleRatioOf(from) / scaleRatioOf(text)
	}
	if !(s.Factor >= minFactor && s.Factor <= maxFactor) {
		return s, fmt.Errorf("%s would make the kit %s of its size; give from %s to %s", plain.Text(text), s.Percent(), Scaling{Factor: minFactor}.Percent(), Scaling{Factor: maxFactor}.Percent())
	}
	if percent == nil {
		s.To = text
		return s, nil
	}
	if from == "" {
		return s, nil
	}
	ratio := scaleRatioOf(from) / s.Factor
	if ratio < 1 {
		return s, fmt.Errorf("%s of %s is larger than life; give at most %s", plain.Text(text), from, Scaling{Factor: scaleRatioOf(from)}.Percent())
	}
	s.To = "1:" + plainNumber(ratio, 2)
	s.Near = near(percent[1], from, ratio)
	return s, nil
}

// near is the integer scale whose percentage, rounded to as many digits, is the
// one given.
func near(percent, from string, ratio float64) string {
	whole := math.Round(ratio)
	_, digits, _ := strings.Cut(percent, ".")
	given, _ := strconv.ParseFloat(percent, 64) // read before
	exact := 100 * scaleRatioOf(from) / whole
	step := math.Pow10(-len(digits))
	if whole < 1 || math.Abs(exact-given) < 1e-9 || math.Abs(exact-given) > step/2+1e-9 {
		return ""
	}
	return "1:" + plainNumber(whole, 0)
}

// scaleRatioOf is the N of 1:N, already validated.
func scaleRatioOf(scale string) float64 {
	v, _ := strconv.ParseFloat(strings.TrimPrefix(scale, "1:"), 64)
	return v
}

// Percent is the factor in percent: "66.67 %".
func (s Scaling) Percent() string {
	decimals := 2
	if s.Factor < 0.01 {
		decimals = 6
	}
	return plainNumber(100*s.Factor, decimals) + " %"
}

// String is the new scale, or the percentage if the kit states no scale.
func (s Scaling) String() string {
	if s.To == "" {
		return s.Percent()
	}
	return s.To
}

// Ratio is the N of the new scale 1:N, not rounded; 0 if the kit states no scale.
func (s Scaling) Ratio() float64 {
	if s.From == "" {
		return 0
	}
	return scaleRatioOf(s.From) / s.Factor
}

// EyeShare is how high the eyes of a standing person are, as a share of the height
// (common practice; figures named by size are measured to the eye or to the top of the
// head).
const EyeShare = 0.93

// FigureHeight is the height in mm of a person of the given height in metres at 1
// to ratio.
func FigureHeight(metres, ratio float64) float64 { return metres * 1000 / ratio }

// plainNumber writes a number with at most the given number of decimals.
func plainNumber(v float64, decimals int) string {
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
	}
	return s
}

// scaling visits every number that depends on the scale: its position in the
// file, zero if it follows from other numbers; the power of the scale that it
// grows with; and the number. Fixed-size parts, wires, the clearance, the fit, printers,
// and what was weighed stay as they are.
func (k *Kit) scaling(visit func(at Pos, power int, v ...*float64)) {
	size := func(s *Size) { visit(s.Pos, 1, &s.XYZ[0], &s.XYZ[1], &s.XYZ[2]) }
	for _, p := range k.Parts {
		if p.Size != nil && !p.FixedSize {
			size(p.Size)
		}
		if p.mass != nil && !p.FixedSize {
			visit(p.mass.Pos, 3, &p.Mass)
		}
	}
	for _, j := range k.Joins {
		if j.Size != nil && !k.allFixed(j.Pieces) {
			size(j.Size)
		}
	}
	for _, w := range k.Wires {
		if w.Hole != nil {
			visit(w.HolePos, 1, w.Hole)
		}
	}
	for _, o := range k.openings() {
		visit(o.Pos, 1, &o.W, &o.H)
	}
	for _, m := range k.Magnets {
		if m.Pocket != nil {
			visit(m.Pocket.Pos, 1, &m.Pocket.Diameter, &m.Pocket.Depth)
		}
	}
	if k.Lights != nil {
		for _, b := range k.Lights.Branches {
			if b.length != nil {
				visit(b.LengthPos, 1, &b.Length)
			}
		}
	}
	k.Balance.scaling(visit)
}

func (b *Balance) scaling(visit func(at Pos, power int, v ...*float64)) {
	if b == nil {
		return
	}
	visit(b.support.Pos, 1, &b.Support)
	if b.margin != nil {
		visit(b.margin.Pos, 1, &b.Margin)
	}
	if b.At != nil {
		visit(b.at.Pos, 1, b.At)
	}
	if b.room != nil {
		visit(b.room.Pos, 3, &b.Room)
	}
	if b.Inside != nil {
		visit(b.Inside.Pos, 1, &b.Inside.XYZ[0], &b.Inside.XYZ[1], &b.Inside.XYZ[2])
	}
	if b.Inside != nil && b.room == nil {
		visit(Pos{}, 3, &b.Room)
	}
}

func (k *Kit) allFixed(pieces []int) bool {
	for _, p := range pieces {
		if !k.Pieces[p].Part.FixedSize {
			return false
		}
	}
	return true
}

// ReadScaled reads the text of a kit file as [Read] does and scales the kit. Positions are
// those in the text.
func ReadScaled(name string, data []byte, s Scaling) (*Kit, error) {
	k, err := Read(name, data)
	if err != nil {
		return nil, err
	}
	k.scaling(func(_ Pos, power int, v ...*float64) {
		for _, x := range v {
			*x *= math.Pow(s.Factor, float64(power))
		}
	})
	k.Scale = s.To
	return k, nil
}
