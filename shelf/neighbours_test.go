package shelf

import (
	"fmt"
	"math/rand/v2"
	"testing"
)

// Sets of products compared give the same pairs and outcomes as every product compared with every other by every row.
func TestNeighboursBySetsAreThoseByPairs(t *testing.T) {
	table, err := Separations()
	if err != nil {
		t.Fatal(err)
	}
	random := rand.New(rand.NewPCG(16, 7))
	cut := 0
	for _, size := range []int{0, 1, 2, 9, 15, 120} {
		var there []standing
		for i := range size {
			st := standing{name: fmt.Sprintf("Product %03d", i), product: fmt.Sprintf("p%03d", i), traits: &traits{}}
			for _, g := range StorageGroups() {
				if random.IntN(5) == 0 {
					st.groups = append(st.groups, g)
				}
			}
			there = append(there, st, st) // two tins of it
		}
		want := map[string]int{} // strictness by pair
		for _, row := range table {
			for _, a := range there {
				for _, b := range there {
					if a.product != b.product && hasGroup(a.groups, row.A) && hasGroup(b.groups, row.B) {
						k := min(a.product, b.product) + max(a.product, b.product)
						want[k] = max(want[k], strictness(row.Outcome))
					}
				}
			}
		}
		listed, more := neighboursIn(there, table)
		if len(listed)+more != len(want) || len(listed) > neighboursListed {
			t.Errorf("%d products: %d pairs listed and %d more, want %d", size, len(listed), more, len(want))
		}
		cut += more
		for _, n := range listed {
			k := min(n.ProductA, n.ProductB) + max(n.ProductA, n.ProductB)
			if is, ok := want[k]; !ok || is != strictness(n.Outcome) {
				t.Errorf("%s and %s: %s, want %d (%v)", n.NameA, n.NameB, n.Outcome, is, ok)
			}
			delete(want, k)
		}
		for k, is := range want {
			if len(listed) > 0 && is > strictness(listed[len(listed)-1].Outcome) {
				t.Errorf("%s is stricter than what is listed", k)
			}
		}
	}
	if cut == 0 {
		t.Error("no place reached the bound")
	}
}

func hasGroup(groups []StorageGroup, g StorageGroup) bool {
	for _, h := range groups {
		if h == g {
			return true
		}
	}
	return false
}
