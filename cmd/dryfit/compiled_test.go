package main

import (
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"dryfit/kits/kitstest"
)

// A damaged cache of compiled code harms no run of the program, and is whole after it.
func TestDamagedCompiledCode(t *testing.T) {
	home := t.TempDir()
	version := func() string {
		t.Helper()
		cmd := exec.Command("dryfit", "--version")
		cmd.Env = append(os.Environ(), "XDG_CACHE_HOME="+home)
		out, err := cmd.CombinedOutput()
		if err != nil {
			t.Fatalf("%v\n%.400s", err, out)
		}
		return string(out)
	}
	want := version()
	files, err := filepath.Glob(filepath.Join(home, "dryfit", "go-graphviz", "*", "*"))
	if err != nil || len(files) == 0 {
		if kitstest.Full() {
			t.Fatal("the library keeps no code here")
		}
		t.Skip("the library keeps no code here")
	}
	code := strings.TrimSuffix(files[0], ".signature")
	random := rand.New(rand.NewPCG(1, 2))
	for range kitstest.Rounds(t, 20, 2) {
		data, err := os.ReadFile(code)
		if err != nil {
			t.Fatal(err)
		}
		whole := len(data)
		if random.IntN(2) == 0 {
			data = data[:random.IntN(len(data))]
		} else {
			for range 1000 {
				data[random.IntN(len(data))] = byte(random.Uint32())
			}
		}
		if err := os.WriteFile(code, data, 0o600); err != nil {
			t.Fatal(err)
		}
		if got := version(); got != want {
			t.Errorf("%q, want %q", got, want)
		}
		if info, err := os.Stat(code); err != nil || info.Size() != int64(whole) {
			t.Errorf("the code is not whole again: %v %v", info, err)
		}
	}
}
