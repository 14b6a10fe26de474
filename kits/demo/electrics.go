package demo

import "fmt"

// Holders, clips, lamps and the rest of what is wired.

func electricPieces() []maker {
	list := []maker{
		{"lamp-holder-cabin.1", func() solid { return lampHolder(191.2, -16, 58, 63, 62.2) }},
		{"lamp-holder-cabin.2", func() solid { return lampHolder(191.2, 8, 58, 63, 62.2) }},
		{"lamp-cabin.1", func() solid { return lampUp(195.2, -12, 62.2) }},
		{"lamp-cabin.2", func() solid { return lampUp(195.2, 12, 62.2) }},
		{"resistor-tray", resistorTray},
		{"resistor-board", resistorBoard},
	}
	for n, x := range []float64{195.5, 202, 208.5, 215} {
		list = append(list, maker{fmt.Sprintf("wire-clip.%d", n+1), func() solid { return wireClip(x) }})
	}
	return list
}

// lampHolder is a block of 8 x 8 mm with a hole for a lamp from below.
func lampHolder(x, y, bottom, top, floor float64) solid {
	hole := dent{circle(x+4, y+4, 3.2, 20), floor, false}
	return plate{2, bottom, top, softRect(x, y, x+8, y+8, 1), nil, []dent{hole}}.solid()
}

// lampUp is a 3 mm lamp that hangs head down from its base.
func lampUp(x, y, base float64) solid {
	return turned(2, vec{x, y}, 20, [2]float64{base, 3}, [2]float64{base - 3.5, 3}, [2]float64{base - 4.4, 2.6},
		[2]float64{base - 4.85, 1.6}, [2]float64{base - 5, 0.6})
}

// lampAlong is a 3 mm lamp along an axis: its base, and where its head points.
func lampAlong(axis int, centre vec, base, sense float64) solid {
	return turned(axis, centre, 20, [2]float64{base, 3}, [2]float64{base + sense*3.5, 3}, [2]float64{base + sense*4.4, 2.6},
		[2]float64{base + sense*4.85, 1.6}, [2]float64{base + sense*5, 0.6})
}

// wireClip hangs under the cabin's roof, open below.
func wireClip(x float64) solid {
	return prism(0, x, x+6, []spot{{16, 73.4}, {16, 69.4}, {17, 69.4}, {17.4, 70.2}, {17, 71}, {17, 72}, {19, 72},
		{19, 71}, {18.6, 70.2}, {19, 69.4}, {20, 69.4}, {20, 73.4}})
}

// The resistor tray stands out from the cabin bulkhead over the battery.
func resistorTray() solid {
	return tub(2, softRect(222, -8, 252, 8, 0.6), softRect(223.5, -6.5, 250.5, 6.5, 0.3), 50, 51, 56)
}

func resistorBoard() solid {
	w := box(224, -6, 51, 250, 6, 52.2)
	for n := range 7 {
		x := 225.2 + 3.2*float64(n)
		w.add(x, -3.4, 52.2, x+2, 3.4, 54.2)
		w.add(x+0.4, -3, 54.2, x+1.6, 3, 54.5)
		w.add(x+0.7, -4.8, 52.2, x+1.3, -4.2, 53.6).add(x+0.7, 4.2, 52.2, x+1.3, 4.8, 53.6)
		w.add(x+0.7, -4.8, 53, x+1.3, -3.4, 53.6).add(x+0.7, 3.4, 53, x+1.3, 4.8, 53.6)
	}
	w.add(247.6, -5.4, 52.2, 249.6, 5.4, 56)
	return w.solid()
}
