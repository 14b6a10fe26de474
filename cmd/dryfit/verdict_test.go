package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"dryfit/kits"
	"dryfit/kits/demo"
	"dryfit/kits/kitstest"
)

// verdictCommands show a kit, each in its own way.
var verdictCommands = [][]string{
	{"check"}, {"order"}, {"why", "crew-seat.1"}, {"tree"}, {"booklet"}, {"booklet", "--check"},
	{"time"}, {"parts"}, {"printing"}, {"next"}, {"balance"}, {"lights"}, {"magnets"}, {"page", "--out", "site"},
}

// All commands give one verdict of a kit: the exit status is the same for all, "ok" in
// their JSON says the same, and whoever can still do the work counts the faults. Where this
// is shortened the commands take turns with the kits.
func TestVerdict(t *testing.T) {
	for i, mistake := range append(mistakes(t), "") {
		turn := i % len(verdictCommands)
		name := mistake
		if name == "" {
			name = "none"
		}
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			folder := kitWith(t, mistake)
			check := ranOn(t, folder, "check", "--json")
			faults := strings.Count(check.out, `"grade": "fault"`)
			if (check.status == 0) != (faults == 0) {
				t.Fatalf("check ends with %d and has %d faults", check.status, faults)
			}
			for _, command := range kitstest.Some(t, len(verdictCommands), slices.Concat(verdictCommands[turn:], verdictCommands[:turn])) {
				agree(t, folder, command, check.status, faults)
			}
		})
	}
}

// mistakes lists the files of testdata/mistakes.
func mistakes(t *testing.T) []string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join("..", "..", "testdata", "mistakes", "*.edit"))
	if err != nil || len(files) == 0 {
		t.Fatalf("there are no mistakes: %v", err)
	}
	for i, f := range files {
		files[i] = strings.TrimSuffix(filepath.Base(f), ".edit")
	}
	return files
}

// agree checks a command against the verdict of check.
func agree(t *testing.T, folder string, command []string, status, faults int) {
	t.Helper()
	plain := ranOn(t, folder, command...)
	if plain.status != status {
		t.Errorf("%s ends with %d, check with %d\n%s", command, plain.status, status, plain.messages)
	}
	said := fmt.Sprintf("dryfit: %d faults, see dryfit check %s\n", faults, folder)
	if faults == 1 {
		said = fmt.Sprintf("dryfit: 1 fault, see dryfit check %s\n", folder)
	}
	told := strings.Contains(plain.messages, said) || strings.Contains(plain.out+plain.messages, "to fix")
	if status == exitFindings && !told || status == exitOK && strings.Contains(plain.messages, "see dryfit check") {
		t.Errorf("%s with %d faults says %q", command, faults, plain.messages)
	}
	if command[0] == "page" {
		return // it has no JSON
	}
	data := ranOn(t, folder, append(command, "--json")...)
	if data.status != status {
		t.Errorf("%s --json ends with %d, check with %d", command, data.status, status)
	}
	var head struct {
		OK *bool `json:"ok"`
	}
	if err := json.Unmarshal([]byte(data.out), &head); err != nil || head.OK == nil || *head.OK != (status == exitOK) {
		t.Errorf("%s --json, status %d: %v, ok is %v", command, status, err, head.OK)
	}
}

// kitWith is a folder with the demonstration kit and a mistake, and no meshes.
func kitWith(t *testing.T, mistake string) string {
	t.Helper()
	folder := t.TempDir()
	text := string(demo.Kit)
	if mistake != "" {
		text = kitstest.Mistake(t, text, mistake)
	}
	if err := os.WriteFile(filepath.Join(folder, kits.FileName), []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	return folder
}

// ran is what a command did.
type ran struct {
	status        int
	out, messages string
}

// ranOn runs a command on a kit within the process.
func ranOn(t *testing.T, folder string, command ...string) ran {
	t.Helper()
	args := append([]string{command[0], folder}, command[1:]...)
	for i, a := range args {
		if a == "site" {
			args[i] = filepath.Join(folder, a)
		}
	}
	root := newRoot()
	var out, messages strings.Builder
	root.SetOut(&out)
	root.SetErr(&messages)
	root.SetArgs(args)
	err := root.ExecuteContext(t.Context())
	if errors.Is(err, errShown) {
		return ran{exitFailed, out.String(), messages.String()}
	}
	return ran{status(err, &messages), out.String(), messages.String()}
}
