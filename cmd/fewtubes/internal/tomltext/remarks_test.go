package tomltext

import "testing"

// A comment begins at the first # outside a string (TOML 1.0, Comment, String).
func TestRemarkOf(t *testing.T) {
	for line, want := range map[string]string{
		`"ochre", # half a tube`:        "# half a tube",
		`"a # b", 'c # d'`:              "",
		`"a \" # b", # c`:               "# c", // an escaped quote ends no basic string
		`'a \', # b`:                    "# b", // a literal string knows no escapes
		`"it's", # 'so'`:                "# 'so'",
		`# all of it, # and more of it`: "# all of it, # and more of it",
	} {
		if got := remarkOf([]byte(line)); got != want {
			t.Errorf("%s: %q, want %q", line, got, want)
		}
	}
}
