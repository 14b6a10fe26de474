package main

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"dryfit/kits/kitstest"
	"dryfit/plan/project/projecttest"
)

// The program itself, driven by scripts: one file a behaviour. With UPDATE_SCRIPTS
// set, what the scripts compare with is rewritten; look at the difference.
func TestScripts(t *testing.T) {
	measured, err := projecttest.Cache()
	if err != nil {
		t.Fatal(err)
	}
	if err := os.CopyFS(filepath.Join(os.Getenv("DRYFIT_TEST_CACHE"), "dryfit"), os.DirFS(measured)); err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir:                 "testdata/script",
		RequireExplicitExec: true,
		UpdateScripts:       os.Getenv("UPDATE_SCRIPTS") != "",
		Setup: func(e *testscript.Env) error {
			e.Setenv("HOME", e.Getenv("WORK")+"/home")
			e.Setenv("XDG_CACHE_HOME", os.Getenv("DRYFIT_TEST_CACHE"))
			e.Setenv("DRYFIT_TEST_CACHE", os.Getenv("DRYFIT_TEST_CACHE"))
			return nil
		},
		Condition: whetherFull,
		Cmds:      map[string]func(*testscript.TestScript, bool, []string){"status": wantStatus, "zip": wantZip, "unzip": wantUnzip},
	})
}

// TestMain runs the program when a script asks for it. The scripts share one cache
// folder, so that the drawing library is compiled once.
func TestMain(m *testing.M) {
	if os.Getenv("DRYFIT_TEST_CACHE") == "" {
		dir, err := os.MkdirTemp("", "dryfit-test-")
		if err != nil {
			panic(err)
		}
		os.Setenv("DRYFIT_TEST_CACHE", dir)
		defer os.RemoveAll(dir)
	}
	testscript.Main(m, map[string]func(){"dryfit": main})
}

// whetherFull is the condition full of the scripts. Where it does not hold the cache
// folder has the measurements of the demonstration kit; where it does they take another.
func whetherFull(name string) (bool, error) {
	if name != "full" {
		return false, fmt.Errorf("unknown condition %q", name)
	}
	return kitstest.Full(), nil
}

// wantStatus runs a command and asks for an exit status: status 2 dryfit check none.
func wantStatus(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: status N command [argument ...]")
	}
	err := ts.Exec(args[1], args[2:]...)
	got := "0"
	if err != nil {
		got = "1"
		type exiter interface{ ExitCode() int }
		if e, ok := err.(exiter); ok {
			got = string(rune('0' + e.ExitCode()))
		}
	}
	if got != args[0] {
		ts.Fatalf("exit status %s, want %s", got, args[0])
	}
}
