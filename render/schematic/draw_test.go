package schematic

import (
	"bytes"
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"strake/lang/diag"
	"strake/layout"
	"strake/render/svg"
)

func TestLaunch(t *testing.T) {
	sys, plan := launch().system()
	d := newDraught(sys, plan, nil, diag.Summary{RuleSet: "iso-13297"}, Options{Effort: layout.Quick})
	for _, a := range []arrangement{{a4, beside, loose}, {a3, below, loose}} {
		m := d.newModel(a.caps)
		p, _ := m.planSheet(a)
		drawing := layout.Layout(m.graphWith(p.blocks), p.field(), layout.Quick)
		for _, s := range m.sheets(a, p, drawing.Sheets[0]) {
			var b bytes.Buffer
			require.NoError(t, svg.Write(&b, s))
			require.NoError(t, os.WriteFile("/tmp/launch-"+a.paper.name+".svg", b.Bytes(), 0o644))
		}
	}
}
