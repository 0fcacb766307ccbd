package facts

import (
	"strings"

	"sixteen/read/layout"
	"sixteen/sheet"
)

// idKey is a field of section 1.
type idKey uint8

const (
	idOther idKey = iota
	idName
	idCode
	idUFI
	idUses
	idAgainst
	idSupplier
	idAddress
	idPhone
	idEmail
	idEmergency
	idPart // a subsection heading that ends what stands before
)

var idLabels = func() *phrases[idKey] {
	p := &phrases[idKey]{}
	p.add(idName, `product name|trade name|product identity|trade name as labeled|name of product|product identification|commercial product name|material name|name|product|product trade name|commercial name|product name code|product description|sds name|article name|
		nom du produit|nom commercial|nom commercial du produit|denomination commerciale|nom|identificateur de produit|identification du produit|designation commerciale|nom de marque|
		handelsname|produktname|produktbezeichnung|produktidentifikator|name des produkts|bezeichnung des produkts|artikelbezeichnung|
		nombre del producto|nombre comercial|nombre de producto|denominacion comercial|identificador del producto|nombre|denominacion del producto`)
	p.add(idCode, `product code|product number|product no|product id|article number|item number|item no|part number|product identifier|sku|material number|identification number|product code s|catalog number|stock number|stock code|product numbers|model no|code|article no|sap number|
		code du produit|code produit|numero du produit|reference|no de produit|produktcode|artikelnummer|produktnummer|artikel nr|produkt nr|codigo del producto|codigo de producto|numero de producto|codigo|referencia`)
	p.add(idUFI, `ufi|unique formula identifier|ufi code|identifiant unique de formulation|eindeutiger rezepturidentifikator|identificador unico de la formula|identificador unico de formula`)
	p.add(idUses, `recommended use|intended use|product use|use|uses|identified uses|relevant identified uses|use of the substance mixture|use of the substance preparation|product use class|recommended use of the chemical|general use|main use category|product type|use of the product|application|relevant identified uses of the substance or mixture|recommended uses|
		utilisation de la substance du melange|utilisation de la substance|usage recommande|usage|utilisation|utilisations identifiees|utilisation du produit|emploi|utilisation recommandee|utilisations identifiees pertinentes|utilisation de la substance de la preparation|
		verwendung des stoffes gemisches|verwendung des stoffes|verwendung|verwendungszweck|identifizierte verwendungen|relevante identifizierte verwendungen|empfohlene verwendung|verwendung des stoffs des gemischs|verwendung des stoffes des gemisches|anwendung|
		uso recomendado|uso|usos|uso previsto|utilizacion|usos identificados|uso del producto|usos pertinentes|usos recomendados|usos pertinentes identificados|uso de la sustancia mezcla`)
	p.add(idAgainst, `uses advised against|restrictions on use|use advised against|restrictions|not recommended for|usages deconseilles|utilisations deconseillees|restrictions d utilisation|usage deconseille|verwendungen von denen abgeraten wird|verwendungsbeschrankungen|nutzungseinschrankungen|usos desaconsejados|restricciones de uso|usos no recomendados|uses advised against none`)
	p.add(idSupplier, `supplier|manufacturer|company name|company|supplier name|manufacturer name|manufacturer address|manufactured by|manufactured for|manufacturer supplier|distributor|distributed by|company and address|supplied by|producer|importer|name of supplier|supplier address|manufacturer importer|company undertaking|responsible party|manufacturer distributor|details of the supplier|supplier details|company identification|
		fournisseur|fabricant|societe|raison sociale|distributeur|fabricant fournisseur|nom du fournisseur|entreprise|producteur|
		lieferant|hersteller|firma|firmenname|hersteller lieferant|hersteller lieferant importeur|unternehmen|inverkehrbringer|
		proveedor|fabricante|empresa|distribuidor|nombre del proveedor|compania|distribuidor importador|razon social|sociedad`)
	p.add(idAddress, `address|company address|street|adresse|anschrift|strasse|direccion|mailing address|street address`)
	p.add(idPhone, `telephone|phone|telephone number|phone number|business phone|tel|telephone no|information phone|general information|product information|phone no|telephone number for information|company telephone|information telephone|customer service|
		numero de telephone|telefon|telefonnummer|telefono|numero de telefono|auskunftsgebender bereich|informacion telefonica`)
	p.add(idEmail, `email|e mail|e mail address|email address|competent person|responsible person|adresse electronique|courriel|adresse e mail|correo electronico|direccion de correo electronico|direccion electronica`)
	p.add(idEmergency, `emergency telephone|emergency telephone number|emergency phone|emergency number|emergency phone number|emergency telephone no|24 hour emergency|emergency contact|24 hour emergency phone|emergency|24 hour emergency telephone number|emergency tel|24 hr emergency|24 hour emergency phone number|24 hour assistance|24 h emergency number|24 h emergency|24 hour emergency number|24 h emergency telephone|emergency telephone 24 h|emergency contact number|emergency phone no|medical emergency|transportation emergency|emergency information|emergency telephone numbers|in case of emergency|emergency overview telephone|emergency response|chemtrec|infotrac|
		numero d appel d urgence|numero de telephone d urgence|telephone d urgence|numero d urgence|urgence|appel d urgence|numero de telephone en cas d urgence|en cas d urgence|tel d urgence|
		notrufnummer|notruf|notfallnummer|notfalltelefon|notfall telefonnummer|giftnotruf|notfallauskunft|
		telefono de emergencia|telefono de emergencias|numero de emergencia|telefono de urgencias|emergencia|numero de telefono de emergencia|numero de telefono en caso de emergencia|telefono emergencia|emergencias`)
	p.add(idOther, `sds no|sds number|synonyms|cas no|cas number|chemical name|chemical family|product form|contact person|preparer|fax|fax no|website|web site|web|date|revision date|issue date|version|formula|common name|product class|registration number|ec number|reach registration number|prepared by|print date|supersedes|revised|n sds|sdb nummer|no sds|hersteller fax|contact|information department|sinonimos|synonymes|synonyme|type de produit|product category|regulatory technical information|datasheet produced by|company phone|internet|identification|fiche signaletique nombre|product upc number|formula date|chemical formula|chemische formel|cas nr|trade names|department|further information|applicant name|color|colour|usage class`)
	return p
}()

// readIdentification reads section 1 and, where it is silent, the lines before it.
func (r *reader) readIdentification() {
	id := &r.sheet.Identification
	body := r.part.body(1)
	if len(body) == 0 {
		body = r.all()[:min(len(r.all()), 60)]
	}
	for _, list := range [][]int{body, r.part.front()} {
		for _, f := range fieldsIn(r.lines, list, idLabels, 5) {
			r.readIDField(f)
		}
	}
	r.emergencyFromHeading(body)
	r.supplierFromHeading(body)
	r.contactsByForm(body)
	if !id.ProductName.Known() {
		r.nameByLook()
	}
}

func (r *reader) readIDField(f field[idKey]) {
	id := &r.sheet.Identification
	if (f.key == idUses || f.key == idAgainst || f.key == idSupplier) && startsSubsection(f.label.line.Text) && !strings.ContainsRune(f.label.line.Text, ':') && len(f.label.line.Cells) < 3 {
		return // the title of the subsection itself
	}
	short := func(target *sheet.Fact[string]) {
		if target.Known() {
			return
		}
		v := f.text(r.lines, 0)
		if v.empty() && len(f.below) > 0 {
			v = f.text(r.lines, 1)
		}
		if v.empty() || !hasLetterOrDigit(v.text()) {
			return
		}
		*target = textFact(v)
	}
	long := func(target *sheet.Fact[string], most int) {
		if target.Known() {
			return
		}
		if v := f.text(r.lines, most); !v.empty() && hasLetterOrDigit(v.text()) {
			*target = textFact(v)
		}
	}
	switch f.key {
	case idName:
		weak := weakName(f.label.text())
		if weak && (f.value.empty() || !strings.Contains(f.label.line.Text[f.label.end:], ":") && len(f.label.line.Cells) < 2) {
			return
		}
		was := id.ProductName
		short(&id.ProductName)
		if !was.Known() && id.ProductName.Known() {
			id.ProductName = r.wrappedName(f, id.ProductName)
		}
	case idCode:
		short(&id.ProductCode)
	case idUFI:
		if t := ufiIn(f.text(r.lines, 1)); !t.empty() && !id.UFI.Known() {
			id.UFI = fact(t.text(), sureLabel, t)
		}
	case idUses:
		long(&id.Uses, 3)
	case idAgainst:
		long(&id.UsesAgainst, 3)
	case idSupplier:
		r.readSupplier(f)
	case idAddress:
		long(&id.SupplierAddress, 3)
	case idPhone:
		if p := phoneIn(f.text(r.lines, 1)); !p.empty() && !id.SupplierPhone.Known() {
			id.SupplierPhone = fact(p.text(), likely, p)
		}
	case idEmergency:
		for n := 0; n <= 4 && !id.EmergencyPhone.Known(); n++ {
			if p := phoneIn(f.text(r.lines, n)); !p.empty() {
				id.EmergencyPhone = fact(p.text(), sureLabel, p)
			}
		}
	}
}

// weakName tells whether a label is also common outside of "name of the product".
func weakName(label string) bool {
	switch fold(label) {
	case "name", "product", "nom", "nombre", "identification du produit", "product identification", "identificateur de produit", "produktidentifikator", "identificador del producto", "product description":
		return true
	}
	return false
}

// wrappedName adds the second line of a product name set in two lines: the same place and size, close below.
func (r *reader) wrappedName(f field[idKey], name sheet.Fact[string]) sheet.Fact[string] {
	if len(f.below) == 0 || f.value.empty() {
		return name
	}
	n := &r.lines[f.below[0]]
	if len(n.Cells) != 1 || n.Page != f.value.line.Page || n.Gap > 0.5*max(n.Size, 6) || len(n.Text) > 60 || sameCell(f.value.line, f.label, f.value) {
		return name
	}
	x := f.value.line.BoxOf(f.value.start, f.value.end).X0
	if n.Box.X0 < x-3 || n.Box.X0 > x+8 {
		return name
	}
	v := f.text(r.lines, 1)
	return fact(plainText(v.text()), likely, v)
}

func (r *reader) readSupplier(f field[idKey]) {
	id := &r.sheet.Identification
	if id.Supplier.Known() {
		return
	}
	v := f.text(r.lines, 0)
	below := f.below
	if v.empty() {
		if len(f.below) == 0 {
			return
		}
		v = lineOf(&r.lines[f.below[0]])
		below = f.below[1:]
		if len(r.lines[f.below[0]].Cells) > 1 {
			c := r.lines[f.below[0]].Cells[0]
			v = stretch{&r.lines[f.below[0]], c.Start, c.End}
		}
	}
	v = v.trim(" \t:;,")
	if v.empty() || !hasLetterOrDigit(v.text()) || strings.HasPrefix(fold(v.text()), "of the") {
		return
	}
	id.Supplier = fact(plainText(v.text()), likely, v)
	if len(below) > 0 && !id.SupplierAddress.Known() {
		var ls []layout.Line
		for _, b := range below {
			if len(ls) == 4 || !phoneIn(lineOf(&r.lines[b])).empty() || strings.Contains(r.lines[b].Text, "@") {
				break
			}
			ls = append(ls, r.lines[b])
		}
		if len(ls) > 0 {
			j := layout.Join(ls...)
			id.SupplierAddress = fact(plainText(strings.ReplaceAll(j.Text, "\t", " ")), inferred, stretch{&j, 0, len(j.Text)})
		}
	}
}

// emergencyFromHeading reads the telephone below "1.4 Emergency telephone number".
func (r *reader) emergencyFromHeading(body []int) {
	id := &r.sheet.Identification
	if id.EmergencyPhone.Known() {
		return
	}
	for bi, i := range body {
		if !strings.Contains(r.lines[i].Text, "1.4") {
			continue
		}
		for _, j := range body[bi:min(len(body), bi+6)] {
			if strings.HasPrefix(strings.TrimSpace(r.lines[j].Text), "2") && startsSubsection(r.lines[j].Text) {
				break
			}
			if p := phoneIn(lineOf(&r.lines[j])); !p.empty() {
				id.EmergencyPhone = fact(p.text(), likely, p)
				return
			}
		}
	}
}

// supplierFromHeading reads the first line below "1.3 Details of the supplier" when no label names the supplier.
func (r *reader) supplierFromHeading(body []int) {
	id := &r.sheet.Identification
	if id.Supplier.Known() {
		return
	}
	for bi, i := range body {
		t := strings.TrimSpace(r.lines[i].Text)
		if !strings.HasPrefix(t, "1.3") || bi+1 >= len(body) {
			continue
		}
		for _, j := range body[bi+1 : min(len(body), bi+3)] {
			l := &r.lines[j]
			if startsSubsection(l.Text) || len(labelsOf(l, idLabels)) > 0 {
				continue
			}
			c := l.Cells[0]
			v := stretch{l, c.Start, c.End}.trim(" :")
			if !v.empty() {
				id.Supplier = fact(plainText(v.text()), inferred, v)
				return
			}
		}
	}
}

// contactsByForm finds an e-mail address by its form.
func (r *reader) contactsByForm(body []int) {
	id := &r.sheet.Identification
	for _, i := range body {
		l := &r.lines[i]
		at := strings.IndexByte(l.Text, '@')
		if at < 1 || id.SupplierEmail.Known() {
			continue
		}
		from, to := at, at
		for from > 0 && l.Text[from-1] > ' ' && strings.IndexByte("(<:,;", l.Text[from-1]) < 0 {
			from--
		}
		for to < len(l.Text) && l.Text[to] > ' ' && strings.IndexByte(")>,;", l.Text[to]) < 0 {
			to++
		}
		v := stretch{l, from, to}.trim(".")
		if strings.IndexByte(v.text(), '.') > 0 && len(v.text()) > 5 {
			id.SupplierEmail = fact(v.text(), sureCode, v)
		}
	}
}

// nameByLook takes the largest line before section 1 that is not the title.
func (r *reader) nameByLook() {
	var best *layout.Line
	titlePage := 0 // a cover letter may stand before
	for _, i := range r.part.front() {
		if ts := tokenize(r.lines[i].Text); len(ts) <= 8 {
			if _, _, n := titles.find(ts); n > 0 {
				titlePage = r.lines[i].Page
			}
		}
	}
	for _, i := range r.part.front() {
		l := &r.lines[i]
		if titlePage > 0 && l.Page != titlePage || titlePage == 0 && l.Page > 1 || len(l.Text) < 3 || len(l.Text) > 80 || len(l.Cells) > 1 {
			continue
		}
		ts := tokenize(l.Text)
		if _, _, n := titles.find(ts); n > 0 {
			continue
		}
		if _, _, n := laws.find(ts); n > 0 {
			continue
		}
		if _, _, n := dateLabels.find(ts); n > 0 || strings.Contains(l.Text, "www.") || strings.Contains(l.Text, "@") {
			continue
		}
		if best == nil || l.Size > best.Size+0.5 || l.Size > best.Size-0.5 && l.Bold && !best.Bold {
			best = l
		}
	}
	if best != nil && hasLetterOrDigit(best.Text) {
		r.sheet.Identification.ProductName = fact(plainText(best.Text), uncertain, lineOf(best))
	}
}

func hasLetterOrDigit(s string) bool {
	for _, t := range tokenize(s) {
		if t.text != "" {
			return true
		}
	}
	return false
}

// ufiIn finds a unique formula identifier: four groups of four characters (Regulation (EC) 1272/2008, Annex VIII).
func ufiIn(v stretch) stretch {
	if v.empty() {
		return stretch{}
	}
	t := v.line.Text
	for i := v.start; i+19 <= v.end; i++ {
		ok := true
		for k := 0; k < 19 && ok; k++ {
			c := t[i+k]
			if k%5 == 4 {
				ok = c == '-'
			} else {
				ok = isDigit(c) || c >= 'A' && c <= 'Z'
			}
		}
		if ok {
			return stretch{v.line, i, i + 19}
		}
	}
	return stretch{}
}

// phoneIn finds the first telephone number: at least seven digits with blanks, brackets, dots, hyphens and a plus.
func phoneIn(v stretch) stretch {
	if v.empty() {
		return stretch{}
	}
	t := v.line.Text
	for i := v.start; i < v.end; i++ {
		c := t[i]
		if !(isDigit(c) || c == '+' || c == '(') || i > v.start && (isDigit(t[i-1]) || t[i-1] == '-' || isLetter(t[i-1])) {
			continue
		}
		digits, j, letters := 0, i, 0
		for j < v.end && (isDigit(t[j]) || strings.IndexByte("+()-./ ", t[j]) >= 0 || upperRun(t, j, v.end) && digits >= 4) {
			if isDigit(t[j]) {
				digits++
			} else if t[j] >= 'A' && t[j] <= 'Z' {
				letters++
			}
			if t[j] == ' ' && j+1 < v.end && t[j+1] == ' ' || t[j] == '(' && digits >= 7 {
				break
			}
			j++
		}
		if digits+letters >= 7 && digits >= 4 && digits <= 18 {
			return stretch{v.line, i, j}.trim(" -./(+").grow(t, i)
		}
		if digits > 0 {
			i = j
		}
	}
	return stretch{}
}

// upperRun tells whether byte j belongs to the letters of a number such as "855-6-AXBDTA".
func upperRun(t string, j, end int) bool {
	return t[j] >= 'A' && t[j] <= 'Z' && j > 0 && (t[j-1] == '-' || t[j-1] >= 'A' && t[j-1] <= 'Z') && j < end
}

// grow gives back a leading plus or bracket that trim took.
func (s stretch) grow(t string, from int) stretch {
	for s.start > from && strings.IndexByte("+(", t[s.start-1]) >= 0 {
		s.start--
	}
	return s
}

func isLetter(c byte) bool { return c|0x20 >= 'a' && c|0x20 <= 'z' }
