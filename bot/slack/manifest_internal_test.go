package slack

import (
	"bytes"
	"os"
	"slices"
	"testing"

	sdk "github.com/slack-go/slack"
	"gopkg.in/yaml.v3"
)

// TestManifestAgreesWithTheProgram reads the manifest strictly into the library's
// own type and compares names and permissions with what this package uses.
func TestManifestAgreesWithTheProgram(t *testing.T) {
	raw, err := os.ReadFile("../../deploy/slack-manifest.yaml")
	if err != nil {
		t.Fatal(err)
	}
	var m sdk.Manifest
	d := yaml.NewDecoder(bytes.NewReader(raw))
	d.KnownFields(true)
	if err := d.Decode(&m); err != nil {
		t.Fatal(err)
	}
	if m.Display.Name != "Mortarboard" || m.Features.SlashCommands[0].Command != (Options{}).withDefaults().Command {
		t.Errorf("name %q, command %q", m.Display.Name, m.Features.SlashCommands[0].Command)
	}
	var callbacks []string
	for _, s := range m.Features.Shortcuts {
		callbacks = append(callbacks, s.CallbackID)
	}
	if !slices.Equal(callbacks, []string{shortcutCallback, formShortcut}) {
		t.Errorf("shortcuts %q", callbacks)
	}
	for _, p := range wanted() {
		if granted := slices.Contains(m.OAuthConfig.Scopes.Bot, p.scope); granted != (p.scope != "groups:history") {
			t.Errorf("permission %s in the manifest: %t", p.scope, granted)
		}
	}
	if n, used := len(m.OAuthConfig.Scopes.Bot), len(wanted())-1; n != used {
		t.Errorf("%d permissions asked for, %d used", n, used)
	}
	if !slices.Equal(m.Settings.EventSubscriptions.BotEvents, []string{"app_home_opened", "app_mention", "message.im", "message.channels"}) {
		t.Errorf("events %q", m.Settings.EventSubscriptions.BotEvents)
	}
}
