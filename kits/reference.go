package kits

import (
	"fmt"
	"strings"
)

// Reference returns the reference of the kit format in Markdown, one table for
// each kind of mapping.
func Reference() string {
	var b strings.Builder
	table(&b, "The file", kitFields)
	table(&b, "An entry of `fixings`", fixingFields)
	table(&b, "An entry of `parts`", partFields)
	table(&b, "An entry of `joins`", joinFields)
	table(&b, "An entry of `spaces`", spaceFields)
	table(&b, "An entry of `closed-by`", closerFields)
	table(&b, "An entry of `wires`", wireFields)
	table(&b, "An entry of `tasks`", taskFields)
	table(&b, "An entry of `service`", serviceFields)
	table(&b, "An entry of `materials`", materialFields)
	table(&b, "An entry of `printers`", printerFields)
	table(&b, "`balance`", balanceFields)
	table(&b, "`weighed`, in `balance`", weighedFields)
	table(&b, "`lights`", lightsFields)
	table(&b, "An entry of `branches`, in `lights`", branchFields)
	table(&b, "An entry of `magnets`", magnetFields)
	return b.String()
}

func table[T any](b *strings.Builder, title string, fields []field[T]) {
	fmt.Fprintf(b, "**%s**\n\n| key | value | meaning |\n|---|---|---|\n", title)
	for _, f := range fields {
		name := "`" + f.name + "`"
		if f.required {
			name += " (required)"
		}
		fmt.Fprintf(b, "| %s | %s | %s |\n", name, f.says, f.doc)
	}
	b.WriteString("\n")
}
