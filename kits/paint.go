package kits

// When a part is painted.
const (
	PaintNone        = "none"
	PaintBeforeFit   = "before-fit"   // by itself
	PaintBeforeClose = "before-close" // with its sub-build, before the space closes
	PaintOutside     = "outside"      // on the model, with the outside coat
	PaintOffModel    = "off-model"    // by itself, fitted after the outside coat
	PaintMasked      = "masked"       // clear, kept unpainted
)

// Painted reports whether a part asks for paint. Masked parts are kept clear of it.
func (p *Part) Painted() bool { return p.Paint != "" && p.Paint != PaintNone && p.Paint != PaintMasked }

// PaintedAlone reports whether a part is painted on its own before it is fitted.
func (p *Part) PaintedAlone() bool { return p.Paint == PaintBeforeFit || p.Paint == PaintOffModel }
