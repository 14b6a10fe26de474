package format

import (
	"fmt"
	"strings"
)

// Table writes the reference of a mapping in Markdown, a row for each key.
func Table[T any](b *strings.Builder, title string, fields []Field[T]) {
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
