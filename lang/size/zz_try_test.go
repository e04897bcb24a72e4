package size_test

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"strake/lang/resolve"
	"strake/lang/size"
	"strake/lang/source"
	"strake/lang/syntax"
)

func TestTry(t *testing.T) {
	name := os.Getenv("TRY")
	if name == "" {
		t.Skip()
	}
	b, _ := os.ReadFile(name)
	tree, f := syntax.Parse(source.NewFile(name, string(b)))
	sys, g := resolve.Resolve([]*syntax.File{tree})
	for _, x := range append(f, g...) {
		fmt.Println("FINDING", x.Rule, x.Message, x.Span.From())
	}
	p := size.Size(sys)
	for _, c := range p.Cables {
		if c.Of.Link {
			continue
		}
		var prot []string
		for _, d := range c.Protection {
			prot = append(prot, d.Ref)
		}
		v := func(x float64, ok bool) string {
			if !ok {
				return "-"
			}
			return fmt.Sprintf("%.4g", x)
		}
		fmt.Printf("%-12s %sx%d %-10s Ib=%s (%s; drop at %s) Iz=%s [%s] prot=%s %v drop=%s cum=%s%% of %s iso=%s fmax=%s fmin=%s %s %s miss=%v\n", c.Of.ID, v(float64(c.Area.Value), c.Area.Known), c.Parallel, c.GovernedBy,
			v(float64(c.DesignCurrent.Value), c.DesignCurrent.Known), c.DesignCase, v(float64(c.DropCurrent.Value), c.DropCurrent.Known), v(float64(c.Ampacity.Value), c.Ampacity.Known), c.AmpacityBasis,
			v(float64(c.ProtectionRating.Value), c.ProtectionRating.Known), prot, v(float64(c.Drop.Value), c.Drop.Known), v(float64(c.CumulativePercent.Value), c.CumulativePercent.Known), v(float64(c.Limit.Value), c.Limit.Known), v(float64(c.ISOPercent.Value), c.ISOPercent.Known),
			v(float64(c.FaultMax.Value), c.FaultMax.Known), v(float64(c.FaultMin.Value), c.FaultMin.Known), c.Result, c.Withstand, strings.Join(c.Missing, "; "))
	}
	for _, d := range p.Devices {
		fmt.Printf("  %-8s %-10s rating=%v chosen=%v I=%v V=%v node=%v breaks=%v fmax=%v\n", d.Of.Ref, d.Of.Kind, d.Rating, d.Chosen, d.Current, d.Voltage, d.NodeMax, d.Breaks, d.FaultMax)
	}
	for _, a := range p.Assumptions {
		fmt.Println("ASSUME", a.Text, "|", a.On)
	}
}
