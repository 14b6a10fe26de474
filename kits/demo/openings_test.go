package demo_test

import (
	"math"
	"testing"
)

// The openings are as large as the kit and the notes of its parts say: no line
// through them meets what they are in.
func TestOpeningsAreClear(t *testing.T) {
	m := measured(t)
	for _, o := range []struct {
		name     string
		axis     int
		u, v     [2]float64 // along the axes that follow
		from, to float64    // along the axis
		in       []string
	}{
		{"belly", 2, [2]float64{122, 298}, [2]float64{-23, 23}, 0, 40, []string{"hull-port-fore", "hull-port-aft", "hull-starboard-fore", "hull-starboard-aft"}},
		{"dorsal hatch", 2, [2]float64{127.6, 189.6}, [2]float64{-19, 19}, 40, 200, []string{"hull-port-fore", "hull-starboard-fore", "ceiling-frame", "wing-centre-lower"}},
		{"battery hatch", 2, [2]float64{231, 285}, [2]float64{-15.5, 15.5}, -50, 40, []string{"floor"}},
		{"mooring cockpit", 2, [2]float64{15, 37}, [2]float64{-6, 6}, 63, 100, []string{"hull-port-fore", "hull-starboard-fore"}},
		{"cockpit", 2, [2]float64{63.4, 115.4}, [2]float64{-21, 21}, 40, 100, []string{"hull-port-fore", "hull-starboard-fore"}},
		{"door", 1, [2]float64{25, 59}, [2]float64{131, 157}, -40, 0, []string{"hull-port-fore", "lining-port", "rescue-door"}},
		{"port window", 1, [2]float64{37.5, 46.5}, [2]float64{183.5, 196.5}, -40, 0, []string{"hull-port-fore", "lining-port"}},
		{"starboard window", 1, [2]float64{37.5, 46.5}, [2]float64{123.5, 136.5}, 0, 40, []string{"hull-starboard-fore", "lining-starboard"}},
		{"doorway", 0, [2]float64{-8, 8}, [2]float64{16, 52}, 0, 450, []string{"bulkhead-cockpit"}},
		{"wing duct", 2, [2]float64{211, 219}, [2]float64{-3, 3}, 0, 200, []string{"wing-cabane"}},
	} {
		clear := func(u, v float64) bool { return o.u[0] < u && u < o.u[1] && o.v[0] < v && v < o.v[1] }
		m.wantClear(t, o.name, o.axis, clear, o.from, o.to, o.in)
	}
	for _, o := range []struct {
		name     string
		axis     int
		u, v     float64
		across   float64
		from, to float64
		in       []string
	}{
		{"nacelle end", 0, 64, 106, 31.9, 272, 450, []string{"nacelle-starboard"}},
		{"nacelle end", 0, -64, 106, 31.9, 272, 450, []string{"nacelle-port"}},
		{"hole W2", 0, -20, 52, 3.9, 0, 450, []string{"bulkhead-cockpit"}},
		{"hole W3", 0, 14, 57, 3.9, 0, 450, []string{"bulkhead-cabin"}},
		{"hole W4", 0, -12, 56, 3.9, 0, 450, []string{"bulkhead-aft"}},
		{"hole W5", 2, 398, -3.17, 2.8, 60, 79, []string{"hull-port-aft"}},
		{"hole W6", 2, 122, -17, 2.5, 60, 76, []string{"hull-port-fore", "searchlight-mount"}},
		{"hole W7", 2, 215, 0, 5.5, 60, 200, []string{"hull-port-fore", "hull-starboard-fore", "wing-cabane"}},
		{"magnet's pocket", 2, 228, 0, 4, -10, 9.2, []string{"floor"}},
		{"ceiling hole", 2, 206, 12, 3.9, 0, 100, []string{"ceiling-frame"}},
	} {
		clear := func(u, v float64) bool { return math.Hypot(u-o.u, v-o.v) < o.across/2 }
		m.wantClear(t, o.name, o.axis, clear, o.from, o.to, o.in)
	}
}

func (m *model) wantClear(t *testing.T, name string, axis int, clear func(u, v float64) bool, from, to float64, in []string) {
	t.Helper()
	c := m.axes[axis]
	for _, id := range in {
		for p := range m.Pieces {
			if m.Pieces[p].ID != id {
				continue
			}
			for _, line := range c.of[p] {
				if !clear(place(line[0]), place(line[1])) {
					continue
				}
				for _, s := range c.lines[line] {
					if s.piece == p && s.from < to-1e-3 && s.to > from+1e-3 {
						t.Errorf("%s: %s stands in it at %.2f", name, id, c.at(line, s.from))
						return
					}
				}
			}
		}
	}
}
