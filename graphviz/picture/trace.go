package picture

import (
	"math"
	"strconv"
)

// farthest is the largest coordinate that is written, in hundredths of a mm: 100 m.
const farthest = 1e7

// trace is the path data of SVG: relative commands between points on a grid of
// hundredths of a mm, so that rounding does not add up along a line.
type trace struct {
	b      []byte
	at     [2]int64 // where the pen is
	last   byte     // the command that a pair of numbers alone would repeat
	dotted bool     // the last thing written is a number with a dot
	digit  bool     // the last thing written is a number
}

// add writes one path. Points that coincide with the previous one are left out.
func (t *trace) add(path []Point, closed, curves bool) {
	points, ok := onGrid(path)
	if !ok || len(points) < 2 || curves && len(points) < 4 {
		return
	}
	start := points[0]
	if closed && points[len(points)-1] == start && !curves {
		points = points[:len(points)-1] // closing draws that side
	}
	t.command('m')
	t.number(start[0] - t.at[0])
	t.number(start[1] - t.at[1])
	t.at, t.last = start, 'l'
	before := len(t.b)
	if curves {
		for i := 1; i+2 < len(points); i += 3 {
			t.curve(points[i : i+3])
		}
	} else {
		for _, p := range points[1:] {
			t.line(p)
		}
	}
	switch {
	case closed:
		t.command('z')
		t.at = start
	case len(t.b) == before: // a dot, as wide as the line
		t.command('h')
		t.number(0)
	}
}

func (t *trace) line(p [2]int64) {
	dx, dy := p[0]-t.at[0], p[1]-t.at[1]
	switch {
	case dx == 0 && dy == 0:
		return
	case dy == 0:
		t.command('h')
		t.number(dx)
	case dx == 0:
		t.command('v')
		t.number(dy)
	default:
		t.command('l')
		t.number(dx)
		t.number(dy)
	}
	t.at = p
}

func (t *trace) curve(p [][2]int64) {
	t.command('c')
	for _, q := range p {
		t.number(q[0] - t.at[0])
		t.number(q[1] - t.at[1])
	}
	t.at = p[2]
}

func (t *trace) command(c byte) {
	if c == t.last {
		return
	}
	t.b = append(t.b, c)
	t.last, t.dotted, t.digit = c, false, false
}

// number writes a number with the shortest separator: a minus is enough, and so
// is a dot if the last number has one.
func (t *trace) number(n int64) {
	dot := n > 0 && n < 100 // it starts with one
	if t.digit && n >= 0 && !(dot && t.dotted) {
		t.b = append(t.b, ' ')
	}
	t.b = appendDecimal(t.b, n)
	t.digit, t.dotted = true, n%100 != 0
}

// appendDecimal writes hundredths as a decimal fraction without redundant zeros:
// -.5 for -50.
func appendDecimal(b []byte, n int64) []byte {
	if n < 0 {
		b = append(b, '-')
		n = -n
	}
	whole, part := n/100, n%100
	if whole > 0 || part == 0 {
		b = strconv.AppendInt(b, whole, 10)
	}
	if part > 0 {
		b = append(b, '.', byte('0'+part/10))
	}
	if part%10 > 0 {
		b = append(b, byte('0'+part%10))
	}
	return b
}

func decimal(n int64) string { return string(appendDecimal(nil, n)) }

// onGrid rounds points to hundredths of a mm; false if one of them is invalid.
func onGrid(path []Point) ([][2]int64, bool) {
	out := make([][2]int64, len(path))
	for i, p := range path {
		x, okX := hundredths(p[0])
		y, okY := hundredths(p[1])
		if !okX || !okY {
			return nil, false
		}
		out[i] = [2]int64{x, y}
	}
	return out, true
}

// hundredths rounds mm to hundredths; false if the number is not finite or too
// large.
func hundredths(v float64) (int64, bool) {
	n := math.Round(v * 100)
	if !(math.Abs(n) <= farthest) {
		return 0, false
	}
	return int64(n), true
}
