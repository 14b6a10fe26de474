package printing

import (
	"fmt"
	"math"

	"dryfit/kits"
)

// says words how a part lies on a printer: what follows its name.
func (f *facts) says(o *pose, h *held, process string) string {
	why := f.lies(o, process)
	if n := h.Need; n.Columns >= 50 {
		why += fmt.Sprintf("; %.0f mm2 overhang, over %.3g cm3 of columns", n.Area, n.Columns/1000)
	}
	if f.Of.Orient != nil {
		why += "; as the kit states"
	}
	return why
}

func (f *facts) lies(o *pose, process string) string {
	switch {
	case process == kits.Filament && o.foot == 0:
		return "has no flat face on the bed; lies on supports"
	case process == kits.Filament:
		return fmt.Sprintf("lies on a flat face of %.0f mm2", o.foot)
	case o.onBed && o.foot > 0 && o.high <= thinHeight:
		return fmt.Sprintf("is thin: lies on a flat face of %.0f mm2", o.foot)
	case o.onBed && o.foot > 0:
		return fmt.Sprintf("is small: stands on a flat face of %.0f mm2", o.foot)
	}
	why := "stands on supports"
	if len(f.flats) > 0 {
		angle := degrees(math.Acos(min(math.Abs(f.flats[0].Normal.Dot(o.down)), 1)))
		if angle > 85 {
			why += ", its largest side upright"
		} else {
			why += fmt.Sprintf(", its largest side %.0f degrees from the bed", angle)
		}
	}
	if f.Clear() {
		why += "; clear, so little of it faces the supports"
	}
	return why
}

func cosine(degrees float64) float64 { return math.Cos(radians(degrees)) }
