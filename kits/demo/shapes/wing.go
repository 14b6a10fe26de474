package shapes

import "math"

// The wing: flat through, its skins parted in the plane of the spar tube's middle.
// The middle part of its section is flat above and below, for pylon, nacelles and
// struts, and stands at the same x all along the span.
const (
	wingPart  = 111.0 // z of the plane between lower and upper skins
	wingHalf  = 6.0   // half the thickness at the root
	wingRoot  = 90.0  // y where the outer wings begin
	wingTip   = 300.0
	wingSweep = 10.0            // how far the leading edge lies back at the tip
	wingFlat  = wingFrom + 18.0 // from here ...
	wingSlope = wingFrom + 48.0 // ... to here the section is flat
	sparAt    = wingFlat + 18   // x of the spar tube
	sparEnd   = 210.0           // y
	sparWide  = 2.0             // radius
	sparBed   = 2.04            // radius of the bed for it
	aileronAt = wingTo - 18     // x of its hinge

	aileronFrom = 165.0
	aileronTo   = 285.0
	tipFrom     = aileronTo // the tip is rounded from here
)

// wingScale thins the outer wing towards the tip.
func wingScale(y float64) float64 {
	return 1 - 0.54*max(math.Abs(y)-wingRoot, 0)/(wingTip-wingRoot)
}

// wingDepth is half the thickness of the root's section at u: 0 to 1 over the nose,
// 1 to 2 over the flat, 2 to 3 down to the trailing edge.
func wingDepth(u float64) float64 {
	switch {
	case u < 1:
		return wingHalf * math.Sqrt(1-(1-u)*(1-u))
	case u < 2:
		return wingHalf
	}
	return wingHalf - 5.65*math.Pow(u-2, 1.06)
}

// wingX is where u of the section lies at y: the nose is swept back, and the tip is
// rounded before and behind.
func wingX(u, y float64) float64 {
	y = math.Abs(y)
	nose, tail := wingFrom+wingSweep*max(y-wingRoot, 0)/(wingTip-wingRoot), wingTo
	if y > tipFrom {
		in := (y - tipFrom) / (wingTip - tipFrom)
		in = 1 - math.Sqrt(max(1-in*in, 0))
		nose, tail = mix(nose, wingFlat-2, in), mix(tail, wingSlope+10, in)
	}
	switch {
	case u < 1:
		return mix(nose, wingFlat, u)
	case u < 2:
		return mix(wingFlat, wingSlope, u-1)
	}
	return mix(wingSlope, tail, u-2)
}

// wingU is the u of an x on the flat or behind it.
func wingU(x float64) float64 {
	if x <= wingSlope {
		return 1 + (x-wingFlat)/(wingSlope-wingFlat)
	}
	return 2 + (x-wingSlope)/(wingTo-wingSlope)
}

// wingSurface is the outside of the wing, above or below.
func wingSurface(u, y float64, above bool) point {
	d := wingDepth(u) * wingScale(y)
	if !above {
		d = -d
	}
	return point{wingX(u, y), y, wingPart + d}
}

// wingBelow is the height of the wing's flat underside at y.
func wingBelow(y float64) float64 { return wingPart - wingHalf*wingScale(y) }
