package tree

// Get returns the value of a key of a map, nil when n is no map or has no such key.
func (n *Node) Get(key string) *Node {
	if f := n.Field(key); f != nil {
		return f.Value
	}
	return nil
}

// Field returns a key of a map with its value, nil when n is no map or has no such key.
func (n *Node) Field(key string) *Field {
	if n == nil {
		return nil
	}
	for i := range n.Fields {
		if n.Fields[i].Key == key {
			return &n.Fields[i]
		}
	}
	return nil
}

// IsEmpty reports whether nothing was written: a key without a value.
func (n *Node) IsEmpty() bool {
	return n.Kind == Scalar && n.Text == "" && !n.Quoted
}

// List returns the items of a list; anything else is a list of one, as a list of one
// may lose its brackets. An empty value is an empty list.
func (n *Node) List() []*Node {
	switch {
	case n == nil || n.IsEmpty():
		return nil
	case n.Kind == List:
		return n.Items
	}
	return []*Node{n}
}
