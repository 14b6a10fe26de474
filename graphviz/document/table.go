package document

// NewTable is a table of texts. Columns on paper are as wide as their texts need, and
// none takes more than its share from the others.
func NewTable(head []string, rows ...[]string) Table {
	t := Table{Head: head, Widths: make([]float64, len(head))}
	const least, most, room = 4, 40, 2 // characters
	wide := func(texts []string) {
		for i, text := range texts {
			t.Widths[i] = max(t.Widths[i], least, float64(min(length(text), most)+room))
		}
	}
	wide(head)
	for _, row := range rows {
		wide(row)
		cells := make([]Cell, len(row))
		for i, text := range row {
			cells[i].Text = text
		}
		t.Rows = append(t.Rows, Row{Cells: cells})
	}
	return t
}
