package practice

// Unmet is the loads that name a data-logger file that is not in the folder, in the
// order of their rows. No file is opened.
func (p *Practice) Unmet() (loads []*Load) {
	here := map[string]bool{}
	for i := range p.Intake.Traces {
		here[stem(plainPath(p.Intake.Traces[i].Name))] = true
	}
	for i := range p.Loads {
		if name := plainPath(p.Loads[i].Trace); name != "" && !here[stem(name)] {
			loads = append(loads, &p.Loads[i])
		}
	}
	return loads
}

// Names are what rows of a kind can be named by in other rows: their ids, or their
// places where they have none, and the names of programs and products; in the order of
// the rows, some perhaps twice.
func (p *Practice) Names(kind string) (names []string) {
	for i := range shapes() {
		s := &shapes()[i]
		if s.kind.Name != kind {
			continue
		}
		all := s.rows(&p.Records)
		for k := range all.count {
			names = append(names, Key(s.row.row(all.at(k))))
		}
	}
	switch kind {
	case "programs":
		for i := range p.Programs {
			names = append(names, p.Programs[i].Name)
		}
	case "products":
		for i := range p.Products {
			names = append(names, p.Products[i].Name)
		}
	}
	return names
}
