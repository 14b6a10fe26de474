package graphviz

// sheet is A3 landscape, in points.
const (
	sheetWidth  = 420 / 25.4 * 72
	sheetHeight = 297 / 25.4 * 72
	sheetMargin = 8 / 25.4 * 72
)

// placement is the position and scale of a layout.
type placement struct{ scale, x, y float64 }

// onSheet scales a drawing to fill the sheet and centres it.
func onSheet(d *drawing) placement {
	s := min((sheetWidth-2*sheetMargin)/d.width, (sheetHeight-2*sheetMargin)/d.height, 2)
	return placement{s, (sheetWidth - s*d.width) / 2, (sheetHeight - s*d.height) / 2}
}
