package main

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// TestPageCommand: the command prints where it serves, keeps a tick in the progress
// file, and ends without an error when it is told to.
func TestPageCommand(t *testing.T) {
	kit := filepath.Join(t.TempDir(), "kit.yaml")
	const text = "kit: Box\nscale: \"1:32\"\nparts:\n  box: {name: Box}\n  gem: {name: Gem}\n  lid: {name: Lid}\njoins:\n  - {fit: gem, to: box, with: ca}\n  - {fit: lid, to: box, with: ca}\nspaces:\n  inside: {closed-by: [lid], holds: [gem]}\n"
	if err := os.WriteFile(kit, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(t.Context())
	defer stop()
	out, in := io.Pipe()
	done := make(chan error, 1)
	go func() { done <- servePage(ctx, in, kit, 0) }()
	first, err := bufio.NewReader(out).ReadString('\n')
	if err != nil {
		t.Fatal(err)
	}
	page, _, _ := strings.Cut(first, " ")
	client := http.Client{Timeout: time.Minute}
	var state string
	for end := time.Now().Add(time.Minute); !strings.Contains(state, `"kit":"Box"`); time.Sleep(10 * time.Millisecond) {
		if time.Now().After(end) {
			t.Fatalf("the state is %s", state)
		}
		r, err := client.Get(page + "state")
		if err != nil {
			t.Fatal(err)
		}
		data, err := io.ReadAll(r.Body)
		r.Body.Close()
		if err != nil {
			t.Fatal(err)
		}
		state = string(data)
	}
	_, rest, _ := strings.Cut(state, `"last_call":[{"id":"`)
	id, _, found := strings.Cut(rest, `"`)
	if !found {
		t.Fatalf("there is no last call in %s", state)
	}
	r, err := http.NewRequest(http.MethodPost, page+"tick", strings.NewReader(fmt.Sprintf(`{"id":%q,"on":true}`, id)))
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("Origin", strings.TrimSuffix(page, "/"))
	r.Header.Set("Content-Type", "application/json")
	answer, err := client.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	answer.Body.Close()
	if answer.StatusCode != http.StatusNoContent {
		t.Errorf("a tick: %d", answer.StatusCode)
	}
	if kept, err := os.ReadFile(strings.TrimSuffix(kit, ".yaml") + ".progress.yaml"); err != nil || !strings.Contains(string(kept), id) {
		t.Errorf("the progress file: %v\n%s", err, kept)
	}
	stop()
	select {
	case err := <-done:
		if err != nil {
			t.Error(err)
		}
	case <-time.After(time.Minute):
		t.Error("it does not end")
	}
}
