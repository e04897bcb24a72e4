package layout_test

import "strake/layout"

func init() { layout.BenchGraph = func(s string) layout.Graph { return sizes[s](3) } }
