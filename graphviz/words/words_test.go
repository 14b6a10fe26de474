package words

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

var placeholder = regexp.MustCompile(`\{[a-z]+\}`)

// TestWhole: each text is there in each language, with the same places for values.
func TestWhole(t *testing.T) {
	if len(Languages()) < 2 {
		t.Errorf("languages: %v", Languages())
	}
	for key, texts := range entries {
		places := func(tag string) []string {
			list := placeholder.FindAllString(texts[tag], -1)
			slices.Sort(list)
			return slices.Compact(list)
		}
		for _, tag := range Languages() {
			if strings.TrimSpace(texts[tag]) == "" {
				t.Errorf("%s: nothing in %s", key, tag)
			}
			if !slices.Equal(places(tag), places("en")) {
				t.Errorf("%s: %s has %v, English %v", key, tag, places(tag), places("en"))
			}
		}
		if len(texts) != len(Languages()) {
			t.Errorf("%s has a language that is in no other", key)
		}
	}
}

// TestUsed: every key in the catalogue is used by the program, and every key that the
// program names is in the catalogue. Keys that are put together count by their start.
func TestUsed(t *testing.T) {
	var source strings.Builder
	for _, folder := range []string{"../*", "../../cmd/dryfit"} {
		files, err := filepath.Glob(filepath.Join(folder, "*.go"))
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range files {
			if strings.HasSuffix(f, "_test.go") {
				continue
			}
			data, err := os.ReadFile(f)
			if err != nil {
				t.Fatal(err)
			}
			source.Write(data)
		}
	}
	text := source.String()
	var starts []string
	for _, m := range regexp.MustCompile(`"([a-z-]+\.(?:[a-z-]+\.)*)" ?\+`).FindAllStringSubmatch(text, -1) {
		starts = append(starts, m[1])
	}
	for key := range entries {
		if strings.Contains(text, `"`+key+`"`) || slices.ContainsFunc(starts, func(s string) bool { return strings.HasPrefix(key, s) }) || used[key] {
			continue
		}
		t.Errorf("%s is never used", key)
	}
	for _, m := range regexp.MustCompile(`(?:Say|say)\("([a-z-]+\.[a-z.-]+[a-z])"[,)]`).FindAllStringSubmatch(text, -1) {
		key := m[1]
		if _, known := entries[key]; known {
			continue
		}
		if !slices.ContainsFunc([]string{"reading.", "tool."}, func(s string) bool { _, known := entries[s+key]; return known }) {
			t.Errorf("no words for %s", key)
		}
	}
}

// used are keys that are found in another way: the names of the languages.
var used = map[string]bool{"language": true}

func TestSay(t *testing.T) {
	l := Language{"en"}
	if got := l.Say("build.joins", "step", "{step} <b>"); got != "It joins the rest at step {step} <b>." {
		t.Error(got)
	}
	if got := l.And([]string{"a", "b", "c"}); got != "a, b and c" {
		t.Error(got)
	}
	if got := (Language{"de"}).Number(1.50, 2); got != "1,5" {
		t.Error(got)
	}
	if _, err := In("xx"); err == nil || !strings.Contains(err.Error(), "de") {
		t.Error(err)
	}
}
