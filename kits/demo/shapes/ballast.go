package shapes

import "math"

// The ballast tray stands on the shelf in the bow, its fore corners cut off to clear
// the planking.
const (
	trayFrom, trayTo  = 13.8, 59.8
	trayHalf          = 17.0
	trayBottom        = 40.0
	trayTop           = 66.0
	trayWall          = 2.0
	shotTop, pelletUp = 63.4, 1.0
)

func trayOutline(in float64) [][2]float64 {
	x0, x1, y := trayFrom+in, trayTo-in, trayHalf-in
	return [][2]float64{{x0 + 4, -y}, {x1, -y}, {x1, y}, {x0 + 4, y}, {x0, y - 4}, {x0, 4 - y}}
}

func ballast() []Piece {
	lid := loft(flatRing(trayOutline(0), trayTop), flatRing(trayOutline(0), trayTop+2), flatRing(trayOutline(1), trayTop+3))
	return []Piece{
		{"ballast-tray", tub(trayBottom, trayBottom+trayWall, trayTop, trayOutline(0), trayOutline(trayWall))},
		{"ballast-lid", lid},
		{"shot", shot()},
	}
}

func flatRing(outline [][2]float64, z float64) []point {
	ring := make([]point, len(outline))
	for i, p := range outline {
		ring[i] = point{p[0], p[1], z}
	}
	return ring
}

// shot fills the tray: a block of which the upper face is a layer of pellets.
func shot() body {
	const gap, fine = 0.1, 5
	x0, x1, y := trayFrom+trayWall+gap, trayTo-trayWall-gap, trayHalf-trayWall-gap
	w := block(x0+4, -y, 0, x1, y, 1)
	for n := 1; n < 16*fine; n++ {
		w.grid(0, x0+4+(x1-x0-4)*float64(n)/(16*fine))
	}
	for n := 1; n < 12*fine; n++ {
		w.grid(1, -y+2*y*float64(n)/(12*fine))
	}
	bump := func(at, length, n float64) float64 { return math.Abs(math.Sin(math.Pi * n * at / length)) }
	w.bend = func(p point) point {
		if p[2] == 0 {
			return point{p[0], p[1], trayBottom + trayWall}
		}
		h := bump(p[0]-x0-4, x1-x0-4, 16) * bump(p[1]+y, 2*y, 12)
		return point{p[0], p[1], shotTop + pelletUp*math.Sqrt(h)}
	}
	return w.body()
}
