package release

import (
	"regexp"
	"strings"
	"unicode"

	"dryfit/kits"
)

// maxName limits the length of a file name in bytes, so that paths stay short enough for
// every system.
const maxName = 80

// reserved matches names that Windows keeps for devices, with any ending (source:
// Microsoft, "Naming Files, Paths, and Namespaces").
var reserved = regexp.MustCompile(`(?i)^(con|prn|aux|nul|(com|lpt)[0-9¹²³]) *(\..*)?$`)

// SafeName makes a file name that every system takes of a text: without separators, signs
// that some systems reserve, names of devices, or a dot or blank at its end.
func SafeName(text string) string {
	var b strings.Builder
	for _, c := range kits.Plain(text) {
		switch {
		case strings.ContainsRune(`/\<>:"|?*`, c) || unicode.IsControl(c):
			c = '-'
		case unicode.IsSpace(c):
			c = ' '
		}
		if b.Len()+len(string(c)) > maxName {
			break
		}
		b.WriteRune(c)
	}
	name := strings.Trim(strings.Join(strings.Fields(b.String()), " "), ". ")
	if name == "" {
		return "unnamed"
	}
	if reserved.MatchString(name) {
		return "-" + name
	}
	return name
}
