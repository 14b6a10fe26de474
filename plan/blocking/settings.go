package blocking

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"dryfit/kits/geom"
)

// Settings of a measurement. The zero value chooses defaults.
type Settings struct {
	Pitch  float64    // mm between sample lines; 0: 0.3, less for small models, more for those over 780 mm
	Depth  float64    // mm of overlap that counts as touching; 0: a third of the pitch
	Fit    float64    // mm of gap that is measured, if it is more than five times what counts as touching
	Toward []geom.Vec // further directions to measure along
	Known  *Known     // earlier measurements; nil if none
	// Tell, if not nil, is called with the progress: the task and the fraction of it
	// done, 0 to 1. The model keeps it for what is asked of it later.
	Tell func(what string, share float64)
}

const (
	defaultPitch = 0.3
	linesAcross  = 400         // at least, across a small model
	mostAcross   = 2600        // lines across a large model by default
	maxAcross    = 12_000      // lines across any model
	maxEvents    = 150_000_000 // of one view: about 1.2 GB
)

// Found is how wide, in pitches, an obstacle is that is found wherever it stands.
const Found = 1.5

// ErrTooFine is returned for a pitch that would take too much memory.
var ErrTooFine = errors.New("the pitch is too fine for a model of this size")

// ErrTooCoarse is returned for a pitch with which most pieces would be missed.
var ErrTooCoarse = errors.New("the pitch is too coarse")

// check rejects invalid lengths and directions.
func (s *Settings) check() error {
	for _, l := range []struct {
		name string
		mm   float64
	}{{"pitch", s.Pitch}, {"depth", s.Depth}, {"fit", s.Fit}} {
		if !(l.mm >= 0) || math.IsInf(l.mm, 1) {
			return fmt.Errorf("%s is %g mm; use a positive number, or 0 for the default", l.name, l.mm)
		}
	}
	for _, d := range s.Toward {
		if l := d.Length(); !(l > 0) || math.IsInf(l, 1) {
			return fmt.Errorf("%v is not a direction", d)
		}
	}
	return nil
}

// settle fills in the defaults.
func (m *Model) settle(s Settings) error {
	if err := s.check(); err != nil {
		return err
	}
	across := m.box(m.all()).Size().Length()
	surface := 0.0
	for _, p := range m.Pieces {
		surface += p.Area
	}
	// Seen from a random direction, a surface covers half its area on average.
	events := func(pitch float64) float64 { return surface / 2 / (pitch * pitch) }
	m.Pitch = s.Pitch
	if m.Pitch == 0 {
		m.Pitch = max(min(defaultPitch, across/linesAcross), across/mostAcross)
		if m.Pitch == 0 {
			m.Pitch = defaultPitch
		}
		if n := events(m.Pitch); n > maxEvents/2 {
			m.Pitch *= math.Sqrt(n / (maxEvents / 2))
		}
	}
	if across/m.Pitch > 2*maxAcross || events(m.Pitch) > maxEvents {
		return fmt.Errorf("%w: %.3g mm for a model of %.0f mm; omit it, or use at least %.2g", ErrTooFine, m.Pitch, across,
			max(across/maxAcross, math.Sqrt(surface/2/maxEvents)))
	}
	if piece, far := m.tooCoarse(); piece >= 0 {
		return fmt.Errorf("%w: %.3g mm, and %s is %.3g mm thick; %s is furthest from the rest: is its position right? Use a finer pitch, or measure fewer pieces together",
			ErrTooCoarse, m.Pitch, m.Pieces[piece].Name, thickness(m.Pieces[piece]), m.Pieces[far].Name)
	}
	if m.Depth = s.Depth; m.Depth == 0 {
		m.Depth = m.Pitch / 3
	}
	m.Touch = max(m.Depth, m.Pitch*2/3)
	m.near = max(nearTimes*m.Touch, s.Fit)
	return nil
}

// tooCoarse returns a piece that most lines would miss, and the piece furthest
// from the middle of all; -1 if the pitch suits most pieces.
func (m *Model) tooCoarse() (piece, far int) {
	if len(m.all()) == 0 {
		return -1, -1
	}
	thin, most, middle := 0, 0.0, m.typical()
	piece = -1
	for _, p := range m.all() {
		if thickness(m.Pieces[p]) < m.Pitch/2 && m.Pieces[p].Volume > 0 {
			thin++
			piece = p
		}
		if d := m.Pieces[p].Centre.Minus(middle).Length(); d > most {
			most, far = d, p
		}
	}
	if 2*thin <= len(m.all()) {
		return -1, far
	}
	return piece, far
}

// typical is the median of the pieces' centres.
func (m *Model) typical() geom.Vec {
	var middle geom.Vec
	for k := range 3 {
		var list []float64
		for _, p := range m.all() {
			list = append(list, m.Pieces[p].Centre[k])
		}
		slices.Sort(list)
		middle[k] = list[len(list)/2]
	}
	return middle
}
