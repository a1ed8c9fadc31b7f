package split
import ("testing";"os";"path/filepath";"strings";"fmt";"context";"time";"gapwise/netlist/reader";"gapwise/rules")
func TestTmp(t *testing.T){
 files,_:=filepath.Glob("../catalogue/testdata/*/*.yaml"); more,_:=filepath.Glob("../testdata/sound/*.yaml"); files=append(files,more...)
 m:=map[string]int{}; br:=map[string]int{}
 for _,f:=range files{
  b,_:=os.ReadFile(f); text:=string(b)
  if !strings.Contains(text,"\ntrains:"){text+="\ntrains: {zz: {length: 3 ft, current: 1 A, at-once: 3}}\n"}
  l,ps,err:=reader.Read(context.Background(),func(n string)([]byte,error){ if n==f {return []byte(text),nil}; return os.ReadFile(n)},f,rules.ReaderOptions())
  if err!=nil||len(ps)>0{m["unread"]++;continue}
  s:=time.Now()
  r,_:=rules.Check(context.Background(),l,rules.Options{})
  for _,w:=range []With{Boosters,Breakers}{
  ask:=usual(); ask.With=w; ask.TrainAmps=1; ask.Districts=6; ask=fits(r,ask,1.01); ask.Margin=0.1
  a,err:=Split(context.Background(),r,ask)
  if err!=nil{m["refused: "+err.Error()[:min(40,len(err.Error()))]]++;continue}
  m[fmt.Sprint("feasible ",a.Feasible)]++
  if len(a.Refused)>0{m["cannot write: "+a.Refused[0]]++; continue}
  if a.After!=nil{ for _,x:=range asWritten(a){fmt.Println(f,w,x)}; for _,x:=range a.plan.apart(){fmt.Println(f,w,x)}
   if r.Count(2)==0 { for _,b:=range a.Brought{ k:=b.Severity.String()+" "+b.Rule; br[k]++; if br[k]<4 {fmt.Println(f,w,k,b.Message)}}}}
  }
  if d:=time.Since(s); d>2*time.Second{fmt.Println("slow",f,d)}
 }
 for _,k:=range sortedKeys(m){fmt.Println(m[k],k)}
 fmt.Println(br)
}
