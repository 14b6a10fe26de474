package format

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"gopkg.in/yaml.v3"
)

// Limits of texts.
const (
	MaxText     = 2000 // characters
	MaxIDLength = 60   // bytes
)

// AnyText is a text of any length that is not empty.
var AnyText = Shape[string]{func(r *reader, n *yaml.Node) (string, bool) {
	if n.Kind != yaml.ScalarNode || n.Tag != "!!str" {
		r.fault(n, "must be text, not %s%s", kindOf(n), quoteHint(n))
		return "", false
	}
	if n.Value == "" {
		r.fault(n, "is empty")
		return "", false
	}
	return n.Value, true
}, Schema{"type": "string", "minLength": 1}, "text", false}

// Prose is a text that may have several lines.
var Prose = AnyText.Check("text", Schema{"type": "string", "minLength": 1, "maxLength": MaxText}, func(s string) string {
	if len([]rune(s)) > MaxText {
		return fmt.Sprintf("is longer than %d characters", MaxText)
	}
	return ""
})

// Words is a text of one or more characters on one line.
var Words = Prose.Check("text", Schema{"type": "string", "minLength": 1, "maxLength": MaxText, "pattern": `^[^\n\t]*$`}, func(s string) string {
	if strings.ContainsAny(s, "\n\t") {
		return "must be on one line"
	}
	return ""
})

// Pattern is a text that matches a regular expression. fault says what is wrong with any
// other, and how to write it.
func Pattern(pattern, says, fault string) Shape[string] {
	re := regexp.MustCompile(pattern)
	return Words.Check(says, Schema{"type": "string", "pattern": pattern}, func(s string) string {
		if re.MatchString(s) {
			return ""
		}
		return fmt.Sprintf("%q %s", s, fault)
	})
}

// Name is a text that refers to something.
func Name(s Shape[string]) Shape[Ref] {
	return Mapped(Place(s), func(t Text) Ref { return Ref{t.Value, t.Pos} })
}

// IDPattern is what an id matches: lower-case words joined by hyphens.
const IDPattern = `^[0-9]*[a-z][a-z0-9]*(-[a-z0-9]+)*$`

var idRegexp = regexp.MustCompile(IDPattern)

// ID is an id.
var ID = Name(Words.Check("id", Schema{"type": "string", "pattern": IDPattern, "maxLength": MaxIDLength, "not": Schema{"enum": reservedNames}}, func(s string) string {
	switch {
	case len(s) > MaxIDLength:
		return fmt.Sprintf("id is longer than %d characters", MaxIDLength)
	case !idRegexp.MatchString(s):
		return fmt.Sprintf("%q is not an id: use lower-case words joined by hyphens, such as hull-left", s)
	case Reserved(s):
		return fmt.Sprintf("%q cannot be an id: some systems reserve it as a file name", s)
	}
	return ""
}))

// Reserved reports whether a word cannot be an id because some system reserves it as the
// name of a file.
func Reserved(word string) bool { return slices.Contains(reservedNames, word) }

// reservedNames cannot be file names on every system, and files are named after ids.
var reservedNames = func() []string {
	names := []string{"aux", "con", "nul", "prn"}
	for i := 1; i <= 9; i++ {
		names = append(names, "com"+strconv.Itoa(i), "lpt"+strconv.Itoa(i))
	}
	slices.Sort(names)
	return names
}()

// Flag is true or false.
var Flag = Shape[bool]{func(r *reader, n *yaml.Node) (bool, bool) {
	if n.Kind != yaml.ScalarNode || n.Tag != "!!bool" {
		r.fault(n, "must be true or false, not %s", kindOf(n))
		return false, false
	}
	return strings.EqualFold(n.Value, "true"), true
}, Schema{"type": "boolean"}, "true or false", false}

// Choice is one of a few words.
func Choice(names ...string) Shape[string] {
	list := strings.Join(names, ", ")
	return Words.Check(list, Schema{"enum": names}, func(s string) string {
		if slices.Contains(names, s) {
			return ""
		}
		return fmt.Sprintf("%q is not one of %s%s", s, list, DidYouMean(s, names))
	})
}

var durationPart = regexp.MustCompile(`([0-9]+(?:\.[0-9]+)?)([smhd])`)

// Duration is a time such as 30s, 5m, 2h, 1h 30m or 3d, of at most a year.
var Duration = Mapped(
	Pattern(`^[0-9]+(\.[0-9]+)?[smhd]( ?[0-9]+(\.[0-9]+)?[smhd])*$`, "time", "is not a time: write 30s, 5m, 2h, 1h 30m or 3d").
		Then(func(s string) string {
			if nanoseconds(s) > float64(366*24*time.Hour) {
				return fmt.Sprintf("%q is longer than 366d", s)
			}
			return ""
		}),
	func(s string) time.Duration { return time.Duration(nanoseconds(s)) })

// nanoseconds is how long a time is that matches the pattern.
func nanoseconds(s string) float64 {
	unit := map[string]time.Duration{"s": time.Second, "m": time.Minute, "h": time.Hour, "d": 24 * time.Hour}
	sum := 0.0
	for _, m := range durationPart.FindAllStringSubmatch(s, -1) {
		v, _ := strconv.ParseFloat(m[1], 64) // digits by the pattern
		sum += v * float64(unit[m[2]])
	}
	return sum
}

// Time writes a time as [Duration] reads it: 1h 30m.
func Time(d time.Duration) string {
	var parts []string
	if h := d / time.Hour; h > 0 || d == 0 {
		parts = append(parts, fmt.Sprintf("%dh", h))
	}
	if m := d % time.Hour / time.Minute; m > 0 {
		parts = append(parts, fmt.Sprintf("%dm", m))
	}
	if s := d % time.Minute; s > 0 {
		parts = append(parts, fmt.Sprintf("%gs", s.Seconds()))
	}
	return strings.Join(parts, " ")
}

// Percent is a share from 0 to 1, written 15%.
var Percent = Mapped(
	Pattern(`^(100|[0-9]{1,2}(\.[0-9]+)?)%$`, "percent", "is not a share: write 0% to 100%"),
	func(s string) float64 {
		v, _ := strconv.ParseFloat(strings.TrimSuffix(s, "%"), 64) // digits by the pattern
		return v / 100
	})

// FileName is a relative path that stays below the folder of the file it is in.
var FileName = Words.Check("path", Schema{"type": "string", "minLength": 1, "maxLength": MaxText,
	"not": Schema{"pattern": badPathPattern}}, func(s string) string {
	if fault := badPath(s); fault != "" {
		return fmt.Sprintf("%q %s: name a file or folder beside the kit file", s, fault)
	}
	return ""
})

// badPathPattern finds paths that leave the folder, or that do not mean the same on every
// system.
const badPathPattern = `^/|\\|(^|/)\.\.(/|$)|[<>:"|?*]|(^|/)([Cc][Oo][Nn]|[Pp][Rr][Nn]|[Aa][Uu][Xx]|[Nn][Uu][Ll]|[Cc][Oo][Mm][1-9]|[Ll][Pp][Tt][1-9])(\.|/|$)`

var badPathRegexp = regexp.MustCompile(badPathPattern)

func badPath(s string) string {
	switch {
	case strings.HasPrefix(s, "/"):
		return "is an absolute path"
	case slices.Contains(strings.Split(s, "/"), ".."):
		return "leads out of the kit's folder"
	case badPathRegexp.MatchString(s):
		return "is not a file name on every system"
	}
	return ""
}
