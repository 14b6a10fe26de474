package document

import (
	"encoding/csv"
	"io"
	"regexp"
	"strings"
)

// writeCSV writes rows of which a spreadsheet takes no text for a formula.
func writeCSV(w io.Writer, rows [][]string) error {
	out := csv.NewWriter(w)
	for _, row := range rows {
		for i := range row {
			row[i] = csvText(row[i])
		}
		if err := out.Write(row); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

// csvNumber is a number as this program writes it: no formula, though it may begin with
// a sign.
var csvNumber = regexp.MustCompile(`^-?[0-9]+(\.[0-9]+)?$`)

// csvText keeps a spreadsheet from taking text for a formula.
func csvText(s string) string {
	if s != "" && strings.ContainsRune("=+-@\t\r", rune(s[0])) && !csvNumber.MatchString(s) {
		return "'" + s
	}
	return s
}
