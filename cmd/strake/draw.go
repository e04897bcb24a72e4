package main

import (
	"bytes"
	"errors"
	"fmt"
	"path/filepath"
	"strings"
	"sync"

	"strake/lang/diag"
	"strake/layout"
	"strake/render/pdf"
	"strake/render/scene"
	"strake/render/schematic"
	"strake/render/svg"
)

type drawVerb struct {
	File   string `arg:"" help:"The craft's text; - reads standard input."`
	Output string `short:"o" help:"The drawing, NAME.svg or NAME.pdf; - writes SVG to standard output. Several sheets are NAME-1.svg, NAME-2.svg …, or the pages of one PDF."`
	Paper  string `help:"A4, A3 or A2, landscape, instead of the text's." enum:",A4,A3,A2" default:""`
	Quick  bool   `help:"Search less for a good arrangement."`
}

func (v *drawVerb) run(e *env) int {
	target := v.Output
	switch {
	case target == "" && v.File == "-":
		target = "-"
	case target == "":
		target = beside(v.File, ".svg")
	}
	asPDF := strings.EqualFold(filepath.Ext(target), ".pdf")
	if target != "-" && !asPDF && !strings.EqualFold(filepath.Ext(target), ".svg") {
		return e.fail(fmt.Errorf("the drawing is written as SVG or PDF: call it %s or %s", beside(target, ".svg"), beside(target, ".pdf")))
	}
	if target != "-" && target == v.File {
		return e.fail(fmt.Errorf("%s is the text itself: give the drawing another name", target))
	}
	result, err := e.craft(v.File)
	if err != nil {
		return e.fail(err)
	}
	e.report(result)
	status := diag.ExitStatus(result.Findings, false)
	if status == exitUnusable {
		fmt.Fprintln(e.err, "no drawing: mend the errors first")
		return status
	}
	options := schematic.Options{Paper: v.Paper, Effort: layout.Good}
	if v.Quick {
		options.Effort = layout.Quick
	}
	sheets := schematic.Draw(result.System, result.Plan, result.Findings, result.Summary, options)
	render := svgPages
	if asPDF {
		render = pdfPages
	}
	pages, err := render(sheets)
	if err != nil {
		return e.fail(err)
	}
	if err := e.writePages(target, pages); err != nil {
		return e.fail(err)
	}
	asked := v.Paper
	if asked == "" {
		asked = result.System.Craft.Paper
	}
	if width, known := paperWidths[asked]; known && sheets[0].Width != width {
		fmt.Fprintf(e.err, "warning: the drawing does not fit %s; it is drawn on larger paper\n", asked)
	}
	return status
}

// svgPages gives each sheet a file of its own.
func svgPages(sheets []scene.Sheet) ([][]byte, error) {
	files, errs := make([][]byte, len(sheets)), make([]error, len(sheets))
	var written sync.WaitGroup
	for i, sheet := range sheets {
		written.Go(func() {
			var file bytes.Buffer
			file.Grow(1 << 18) // the fonts alone are a third of it
			errs[i] = svg.Write(&file, sheet)
			files[i] = file.Bytes()
		})
	}
	written.Wait()
	return files, errors.Join(errs...)
}

// pdfPages puts all sheets into one file.
func pdfPages(sheets []scene.Sheet) ([][]byte, error) {
	var file bytes.Buffer
	if err := pdf.Write(&file, sheets); err != nil {
		return nil, err
	}
	return [][]byte{file.Bytes()}, nil
}

// paperWidths are the widths of landscape paper in hundredths of a millimetre.
var paperWidths = map[string]int{"A4": 29700, "A3": 42000, "A2": 59400}

// writePages writes one sheet under its own name, several with a number; what an
// earlier run left over is named, since somebody might print it.
func (e *env) writePages(target string, pages [][]byte) error {
	if target == "-" {
		for _, page := range pages {
			if _, err := e.out.Write(page); err != nil {
				return err
			}
		}
		return nil
	}
	written := map[string]bool{}
	for i, page := range pages {
		name := pageName(target, i+1, len(pages))
		written[name] = true
		if err := replace(name, page); err != nil {
			return err
		}
		fmt.Fprintf(e.err, "wrote %s\n", name)
	}
	for _, old := range leftOver(target) {
		if !written[old] {
			fmt.Fprintf(e.err, "warning: %s is left over from an earlier run and does not belong to this drawing\n", old)
		}
	}
	return nil
}

func pageName(target string, page, pages int) string {
	if pages == 1 {
		return target
	}
	return beside(target, fmt.Sprintf("-%d%s", page, filepath.Ext(target)))
}

// leftOver lists sheets of the same drawing that lie beside it.
func leftOver(target string) []string {
	numbered, err := filepath.Glob(beside(target, "-[0-9]*"+filepath.Ext(target)))
	if err != nil {
		return nil // a name that is no pattern has no numbered sheets
	}
	single, _ := filepath.Glob(target)
	return append(single, numbered...)
}
