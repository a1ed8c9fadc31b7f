package main

import (
	"runtime/debug"
	"testing"
)

func TestVersion(t *testing.T) {
	revision := []debug.BuildSetting{{Key: "vcs.revision", Value: "0123abcd"}, {Key: "vcs.modified", Value: "true"}}
	for _, tt := range []struct {
		info debug.BuildInfo
		want string
	}{
		{debug.BuildInfo{GoVersion: "go1.26", Main: debug.Module{Version: "v1.2.3"}, Settings: revision}, "gapwise v1.2.3 (go1.26)"},
		{debug.BuildInfo{GoVersion: "go1.26", Main: debug.Module{Version: "(devel)"}, Settings: revision}, "gapwise, built from source 0123abcd, with changes (go1.26)"},
		{debug.BuildInfo{GoVersion: "go1.26"}, "gapwise, built from source (go1.26)"},
	} {
		if got := versionOf(&tt.info); got != tt.want {
			t.Errorf("got %q, want %q", got, tt.want)
		}
	}
}
