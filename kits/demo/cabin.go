package demo

import "fmt"

// The rescue cabin: what stands on its sole, built on the bench, and its linings,
// windows and ceiling.

const (
	soleTop = 15.0
	winchX  = 147.4 // in the door
)

func cabinPieces() []maker {
	list := []maker{
		{"cabin-sole", cabinSole},
		{"bench-port", func() solid { return bench(181.8, 217.8, true) }},
		{"bench-starboard", func() solid { return bench(121.2, 181.2, false) }},
		{"stretcher-rack", stretcherRack},
		{"stretcher", stretcher},
		{"winch-frame", winchFrame},
		{"winch-drum", winchDrum},
		{"drum-pin", func() solid { return rod(1, vec{winchX, 0, 38}, 0.8, -25, -9, 12) }},
		{"locker", locker},
		{"oxygen-bottle.1", func() solid { return oxygenBottle(202.8, 14.4) }},
		{"oxygen-bottle.2", func() solid { return oxygenBottle(202.8, 21.4) }},
		{"raft-pack", raftPack},
		{"winch-operator", winchOperator},
		{"medic", medic},
		{"lining-port", func() solid { return lining(true).mirrored() }},
		{"lining-starboard", func() solid { return lining(false) }},
		{"ceiling-frame", ceilingFrame},
	}
	for n, x := range windowsPort {
		list = append(list, maker{fmt.Sprintf("cabin-window.%d", n+1), func() solid { return window(x).mirrored() }})
	}
	for n, x := range windowsStarboard {
		list = append(list, maker{fmt.Sprintf("cabin-window.%d", n+4), func() solid { return window(x) }})
	}
	return list
}

// cabinSole is a grating on the rails of the hull.
func cabinSole() solid {
	w := box(121, -25, railTop, 219, 25, soleTop)
	for y := -23.5; y < 23; y += 3 {
		w.cut(123, y, soleTop-0.8, 217, y+1, soleTop)
	}
	return w.solid()
}

// bench is folded down from the side: a padded seat on legs, a back rest against
// the lining.
func bench(from, to float64, port bool) solid {
	seat := []field{
		cushion(at(from, 11, 24), at(to, 25, 26.4), 0.5),
		cushion(at(from, 23.4, soleTop), at(to, 25, 31), 0.5),
	}
	n := 2
	if !port {
		n = 3
	}
	pitch := (to - from) / float64(n)
	for i := range n {
		x := from + pitch*float64(i)
		seat = append(seat,
			cushion(at(x+0.8, 11.2, 26), at(x+pitch-0.8, 23, 28.6), 1.2),
			cushion(at(x+0.8, 22, 27), at(x+pitch-0.8, 24.5, 31.2), 0.9))
	}
	for i := range n + 1 {
		x := min(max(from+pitch*float64(i), from+1.2), to-1.2)
		seat = append(seat,
			cushion(at(x-1.1, 12, 14), at(x+1.1, 14.2, 25), 0.3),
			limb(at(x, 13.2, 16.5), at(x, 23.6, 22), 0.8, 0.8))
	}
	s := cast(all(seat...), at(from, 11, soleTop), at(to, 25, 31), 0.8)
	if port {
		return s.mirrored()
	}
	return s
}

// stretcherRack carries the stretcher over stowed gear.
func stretcherRack() solid {
	const fore, after = 147.0, 217.0
	w := new(joinery)
	for _, x := range []float64{fore, 168.8, 190.8, after - 2.5} {
		w.add(x, -9, soleTop, x+2.5, -6.5, 35).add(x, 8.5, soleTop, x+2.5, 11, 35)
		w.add(x, -9, 33, x+2.5, 11, 35)
	}
	w.add(fore, -9, 32, after, -7, 35).add(fore, 9, 32, after, 11, 35)
	w.add(fore, -9, 22, after, -7.5, 24).add(fore, 9.5, 22, after, 11, 24)
	return w.solid()
}

// The winch stands in the door: two cheeks that narrow upward, with a slot in which
// the drum is let down, and a pin through both.
func winchFrame() solid {
	const x = winchX
	w := box(x-8, -24, soleTop, x+8, -10, 17)
	w.add(x-8, -24, 17, x+8, -22, 45).add(x-8, -12, 17, x+8, -10, 45)
	w.add(x-8, -22, 17, x-5, -12, 21).add(x+5, -22, 17, x+8, -12, 21)
	w.cut(x-0.8, -24, 37.5, x+0.8, -22, 38.5).cut(x-0.8, -12, 37.5, x+0.8, -10, 38.5)
	w.cut(x-4, -24, 22, x+4, -22, 30).cut(x-4, -12, 22, x+4, -10, 30)
	return w.solid().mapped(func(p vec) vec {
		return vec{x + (p[0]-x)*between(1, 0.5, smooth((p[2]-17)/28)), p[1], p[2]}
	})
}

func winchDrum() solid {
	stations := [][2]float64{{-22, 10}, {-20.8, 10}, {-20.8, 6.4}}
	for y := -20.4; y < -13.4; y += 0.8 {
		stations = append(stations, [2]float64{y, 7}, [2]float64{y + 0.4, 6.4})
	}
	stations = append(stations, [2]float64{-13.2, 6.4}, [2]float64{-13.2, 10}, [2]float64{-12, 10},
		[2]float64{-12, 0.9}, [2]float64{-22, 0.9})
	return bored(1, vec{winchX, 0, 38}, 24, stations...)
}

// locker has a low shelf at its after end for the two oxygen bottles.
func locker() solid {
	w := box(182, 11, soleTop, 199.4, 25, 55).add(199.4, 11, soleTop, 206, 25, 28)
	for n := range 2 {
		x := 182.5 + 8.6*float64(n)
		w.cut(x, 11, 16.5, x+0.5, 11.6, 53.5).cut(x+7.5, 11, 16.5, x+8, 11.6, 53.5)
		w.cut(x, 11, 16.5, x+8, 11.6, 17).cut(x, 11, 53, x+8, 11.6, 53.5)
		w.cut(x+5.6, 11, 33, x+6.8, 12, 38)
		for z := 44.0; z < 51; z += 1.6 {
			w.cut(x+1.6, 11, z, x+6.4, 11.6, z+0.7)
		}
	}
	return w.solid()
}

func oxygenBottle(x, y float64) solid {
	return turned(2, vec{x, y}, 24, [2]float64{28, 5}, [2]float64{28.6, 6}, [2]float64{44, 6}, [2]float64{45.4, 5.4},
		[2]float64{46.4, 4}, [2]float64{46.8, 2.2}, [2]float64{47.6, 2.2}, [2]float64{47.6, 3.2}, [2]float64{49.6, 3.2},
		[2]float64{50, 2.6})
}

// raftPack is a soft bag with two straps and a handle.
func raftPack() solid {
	bag := cushion(at(155.6, -24.6, 14), at(181.6, -9.4, 28.4), 4)
	straps := []field{bag}
	for _, x := range []float64{161.6, 175.6} {
		straps = append(straps, cushion(at(x-1.3, -25, 14), at(x+1.3, -9, 28.9), 1.2))
	}
	straps = append(straps, limb(at(165.2, -17, 28.2), at(172.2, -17, 28.2), 0.8, 0.8))
	return cast(blend(0.4, straps...), at(155.6, -25, soleTop), at(181.6, -9, 29), 0.8)
}

// lining stands on the rail against the hull's side. Each window's flange lies in a
// recess of its outer face.
func lining(port bool) solid {
	windows, seams := windowsStarboard, []float64{139.2, 158.4, 177.2, 197}
	if port {
		windows, seams = windowsPort, []float64{125, 160, 180.4, 199}
	}
	w := box(121, 25, railTop, 219, 27, 62)
	for _, x := range windows {
		w.cut(x-8.1, 26, 35.9, x+8.1, 27, 48.1)
		w.cut(x-6.5, 25, 37.5, x+6.5, 26, 46.5)
	}
	for _, x := range seams {
		w.cut(x, 25, 18, x+0.8, 25.5, 58)
	}
	if port {
		w.cut(doorFrom, 25, doorSill, doorTo, 27, doorHead)
	}
	return w.solid()
}

// window has its flange inside, in the lining; the pane stands in the hull's side.
func window(x float64) solid {
	return box(x-8, 26, 36, x+8, 27, 48).add(x-6.4, 27, 37.6, x+6.4, 28, 46.4).solid()
}

// ceilingFrame leaves the dorsal hatch open and has two holes for the leads of the
// cabin lamps.
func ceilingFrame() solid {
	return prism(2, 63, 68, rect(121, -25, 219, 25), rect(hatchFrom, -19, hatchTo, 19),
		circle(206, -12, 4, 16), circle(206, 12, 4, 16), softRect(209, -18, 216, 18, 1.5))
}
