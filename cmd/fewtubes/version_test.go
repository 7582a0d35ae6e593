package main

import (
	"runtime/debug"
	"strings"
	"testing"
)

func TestProvenance(t *testing.T) {
	settings := func(pairs ...string) (out []debug.BuildSetting) {
		for i := 0; i < len(pairs); i += 2 {
			out = append(out, debug.BuildSetting{Key: pairs[i], Value: pairs[i+1]})
		}
		return out
	}
	const commit = "9bad1581c2d3"
	for name, c := range map[string]struct {
		info *debug.BuildInfo
		want provenance
	}{
		"nothing written down": {nil, provenance{unknown, unknown, unknown}},
		"no version control":   {&debug.BuildInfo{Main: debug.Module{Version: "(devel)"}}, provenance{unknown, unknown, unknown}},
		"a commit": {&debug.BuildInfo{Main: debug.Module{Version: "v1.2.0"}, Settings: settings("vcs.revision", commit, "vcs.time", "2026-03-29T23:30:00-02:00", "vcs.modified", "false")},
			provenance{"v1.2.0", commit, "2026-03-30"}},
		"changes": {&debug.BuildInfo{Main: debug.Module{Version: "v1.2.0+dirty"}, Settings: settings("vcs.modified", "true", "vcs.revision", commit)},
			provenance{"v1.2.0+dirty", commit, unknown}},
		"a time that is none": {&debug.BuildInfo{Settings: settings("vcs.time", "noon")}, provenance{unknown, unknown, unknown}},
	} {
		got := provenanceOf(c.info)
		got.commit, _, _ = strings.Cut(got.commit, ",")
		if got != c.want {
			t.Errorf("%s: %+v, want %+v", name, got, c.want)
		}
	}
	changed := provenanceOf(&debug.BuildInfo{Settings: settings("vcs.modified", "true", "vcs.revision", commit)})
	if !strings.Contains(changed.String(), commit+", with changes") {
		t.Errorf("%s", changed)
	}
}
