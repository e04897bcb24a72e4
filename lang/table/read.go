// Package table owns the published tables: resistance and capacity of
// conductors, derating factors, adiabatic constants, standard ratings, fuse
// classes, battery voltages. They are data files, each row with its source:
// published, common practice, or from memory and to be verified against the
// bought standard. It knows nothing of circuits.
package table

import (
	"embed"
	"encoding/csv"
	"fmt"
	"strconv"
	"strings"
	"sync"
)

//go:embed data/*.csv
var files embed.FS

// Version names the state of the tables; it goes into the mark of a sheet.
const Version = "2026-11-25"

// Cited is a value with the source of its row.
type Cited[T any] struct {
	Value  T
	Source string
}

// row is one line of a data file, by the names of its columns.
type row map[string]string

func (r row) number(column string) float64 {
	v, err := strconv.ParseFloat(r[column], 64)
	if err != nil {
		panic(fmt.Sprintf("table: column %s holds %q, which is no number", column, r[column]))
	}
	return v
}

// read gives the rows of a data file.
func read(name string) []row { return all()[name] }

// all is every data file, read once. The files are part of the program: a fault
// in one is a fault of the program, met by every test.
var all = sync.OnceValue(func() map[string][]row {
	entries, err := files.ReadDir("data")
	if err != nil {
		panic("table: " + err.Error())
	}
	tables := map[string][]row{}
	for _, e := range entries {
		name := strings.TrimSuffix(e.Name(), ".csv")
		tables[name] = parse(name)
	}
	return tables
})

func parse(name string) []row {
	text, err := files.ReadFile("data/" + name + ".csv")
	if err != nil {
		panic("table: " + err.Error())
	}
	lines, err := csv.NewReader(strings.NewReader(string(text))).ReadAll()
	if err != nil {
		panic("table: " + name + ": " + err.Error())
	}
	rows := make([]row, 0, len(lines)-1)
	for _, l := range lines[1:] {
		r := row{}
		for i, column := range lines[0] {
			r[column] = l[i]
		}
		rows = append(rows, r)
	}
	return rows
}
