// Command gapwise reads how a model railroad is wired and says what is wrong with it before
// the power goes on.
package main

import "os"

func main() {
	p := program{in: os.Stdin, out: os.Stdout, err: os.Stderr}
	os.Exit(p.Main(os.Args[1:]))
}
