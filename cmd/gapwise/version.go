package main

import "runtime/debug"

// version tells which gapwise this is, from what the build wrote into it.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return "gapwise, of an unknown version"
	}
	return versionOf(info)
}

// versionOf is the module's version, else the revision it was built from.
func versionOf(info *debug.BuildInfo) string {
	text := "gapwise " + info.Main.Version
	if info.Main.Version == "" || info.Main.Version == "(devel)" {
		text = "gapwise, built from source"
		for _, s := range info.Settings {
			switch {
			case s.Key == "vcs.revision":
				text += " " + s.Value
			case s.Key == "vcs.modified" && s.Value == "true":
				text += ", with changes"
			}
		}
	}
	return text + " (" + info.GoVersion + ")"
}
