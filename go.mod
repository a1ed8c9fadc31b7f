module gapwise

go 1.26

require (
	github.com/clipperhouse/displaywidth v0.10.0
	github.com/hbollon/go-edlib v1.7.0
	github.com/rogpeppe/go-internal v1.16.0
	gopkg.in/yaml.v3 v3.0.1
	pgregory.net/rapid v1.3.0
)

require (
	github.com/clipperhouse/uax29/v2 v2.6.0 // indirect
	golang.org/x/tools v0.30.0 // indirect
)
