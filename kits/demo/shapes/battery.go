package shapes

import "math"

const (
	cradleFrom, cradleTo = 222.2, 278.2
	cradleHalf           = 15.0
	cradleTop            = 28.0
	batteryNose          = 228.6
	batteryHalf          = 13.25
	batteryTop           = 26.0
)

func batteryPieces() []Piece {
	return []Piece{
		{"battery-cradle", cradle()},
		{"battery", prism(alongX, batteryNose, batteryNose+48.5, rectangle(-batteryHalf, batteryTop-17.5, batteryHalf, batteryTop, 1.2))},
		{"battery-clip", batteryClip()},
		{"snap-lead", snapLead()},
	}
}

// cradle is a frame open from below; the battery is pushed up against its upper
// flange.
func cradle() body {
	w := block(cradleFrom, -cradleHalf, coamingTop, cradleTo, cradleHalf, cradleTop)
	w.cut(batteryNose-0.1, -batteryHalf-0.15, coamingTop, batteryNose+48.55, batteryHalf+0.15, batteryTop)
	w.cut(232, -7, batteryTop, 264, 7, cradleTop)
	w.cut(cradleFrom+1.6, -12, coamingTop, batteryNose-1.6, 12, cradleTop-2)
	for _, side := range []float64{-1, 1} {
		for x := 233.0; x < 270; x += 14 {
			w.cut(x, side*cradleHalf, 19, x+9, side*(batteryHalf+0.15), 24)
		}
		w.cut(268, side*cradleHalf, cradleTop-1, 276, side*12.4, cradleTop)
	}
	return w.body()
}

// batteryClip is a springy arch over the aft end.
func batteryClip() body {
	const foot, top, half = cradleTop, cradleTop + 16, 12.0
	arch := func(r float64) [][2]float64 {
		var list [][2]float64
		for k := range 17 {
			sin, cos := math.Sincos(math.Pi * float64(k) / 16)
			list = append(list, [2]float64{r * cos, top - half + r*sin})
		}
		return list
	}
	outline := append([][2]float64{{half - 4, foot}, {half, foot}}, arch(half)...)
	outline = append(outline, [2]float64{-half, foot}, [2]float64{4 - half, foot}, [2]float64{4 - half, foot + 1.5})
	inner := arch(half - 1.6)
	for k := range inner {
		outline = append(outline, inner[len(inner)-1-k])
	}
	return prism(alongX, 267, 277, append(outline, [2]float64{half - 4, foot + 1.5}))
}

// snapLead is the cap of the leads, laid on the cradle.
func snapLead() body {
	w := block(229, -8.5, cradleTop, 255, 8.5, cradleTop+4.5)
	for _, x := range []float64{235.5, 248.5} {
		w.add(x-3.5, -3.5, cradleTop, x+3.5, 3.5, cradleTop+8)
		w.cut(x-2, -2, cradleTop+6, x+2, 2, cradleTop+8)
	}
	w.add(253, -2, cradleTop, 255, 2, cradleTop+6)
	return w.body()
}
