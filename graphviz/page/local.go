package page

import (
	"path/filepath"
	"strings"

	"dryfit/plan"
)

// local reduces the positions of findings to the name of the kit file: a page
// that is given away must not show where its designer keeps files.
func local(list []plan.Finding, file string) []plan.Finding {
	dir, base := filepath.Split(file)
	short := func(s string) string {
		s = strings.ReplaceAll(s, file, base)
		if filepath.IsAbs(dir) {
			s = strings.ReplaceAll(s, dir, "")
		}
		return s
	}
	out := make([]plan.Finding, len(list))
	for i, f := range list {
		f.Text = short(f.Text)
		f.Because, f.Repairs = append([]plan.Reason{}, f.Because...), append([]plan.Repair{}, f.Repairs...)
		for j := range f.Because {
			f.Because[j].Text, f.Because[j].At = short(f.Because[j].Text), short(f.Because[j].At)
		}
		for j := range f.Repairs {
			f.Repairs[j].Text = short(f.Repairs[j].Text)
		}
		out[i] = f
	}
	return out
}
