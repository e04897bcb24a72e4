module strake

go 1.26.0

require (
	codeberg.org/go-pdf/fpdf v0.12.0
	github.com/ajstarks/svgo v0.0.0-20211024235047-1546f124cd8b
	github.com/alecthomas/kong v1.17.0
	github.com/alecthomas/participle/v2 v2.1.4
	github.com/rogpeppe/go-internal v1.16.0
	github.com/stretchr/testify v1.12.1
	golang.org/x/image v0.47.0
	golang.org/x/term v0.48.0
	golang.org/x/text v0.43.0
	gonum.org/v1/gonum v0.17.0
	pgregory.net/rapid v1.3.0
)

require (
	go.yaml.in/yaml/v3 v3.0.6 // indirect
	golang.org/x/sys v0.50.0 // indirect
	golang.org/x/tools v0.51.0 // indirect
)
