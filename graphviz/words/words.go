// Package words holds the fixed words of what builders read, in every language, in
// one catalogue, and puts them together with what the kit says.
package words

import (
	_ "embed"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
)

//go:embed catalogue.json
var catalogue []byte

// entries are the texts by their key, each by its language.
var entries = func() map[string]map[string]string {
	var all map[string]map[string]string
	if err := json.Unmarshal(catalogue, &all); err != nil {
		panic(err) // the catalogue is part of the program
	}
	return all
}()

// Languages lists the languages of the catalogue by their BCP 47 tags, English first.
func Languages() []string {
	var list []string
	for tag := range entries["language"] {
		if tag != "en" {
			list = append(list, tag)
		}
	}
	slices.Sort(list)
	return append([]string{"en"}, list...)
}

// Language is the words of one language.
type Language struct {
	Tag string // BCP 47
}

// English is the language of reports and of the page.
var English = Language{"en"}

// In is a language by its tag. The error lists those there are.
func In(tag string) (Language, error) {
	if !slices.Contains(Languages(), tag) {
		return Language{}, fmt.Errorf("there is no language %q; there are %s", tag, strings.Join(Languages(), ", "))
	}
	return Language{tag}, nil
}

// Say is the text of a key, with each {name} in it replaced by the value after that
// name. What the values hold is not looked at again.
func (l Language) Say(key string, namesAndValues ...string) string {
	text, known := entries[key][l.Tag]
	if !known {
		panic("no words for " + key) // the keys are part of the program, and tested
	}
	if len(namesAndValues) == 0 {
		return text
	}
	pairs := make([]string, len(namesAndValues))
	for i := 0; i+1 < len(namesAndValues); i += 2 {
		pairs[i], pairs[i+1] = "{"+namesAndValues[i]+"}", namesAndValues[i+1]
	}
	return strings.NewReplacer(pairs...).Replace(text)
}

// Has reports whether there are words for a key that is made up from the kit.
func (l Language) Has(key string) bool {
	_, known := entries[key][l.Tag]
	return known
}

// And joins names for a sentence.
func (l Language) And(names []string) string {
	switch n := len(names); n {
	case 0:
		return ""
	case 1:
		return names[0]
	default:
		return l.Say("list.and", "list", strings.Join(names[:n-1], ", "), "last", names[n-1])
	}
}

// Number is a number with at most so many decimals, and none that are zero.
func (l Language) Number(v float64, decimals int) string {
	s := fmt.Sprintf("%.*f", decimals, v)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return strings.Replace(s, ".", l.Say("number.decimal"), 1)
}

// Signal is a signal word as printed.
func (l Language) Signal(signal string) string { return l.Say("signal." + signal) }
