package gauge
import ("testing";"time";"math";"math/rand";"dryfit/geom/r3")
func TestZZ(t *testing.T){
 for _,c:=range worked { f:=time.Now(); a:=c.answer(); if d:=time.Since(f); d>3*time.Millisecond {t.Logf("%s %v n=%d %v",c.name,d,a.Attitudes,a.Verdict)}}
 rnd:=rand.New(rand.NewSource(3))
 for _,n:=range []int{50,200,800}{
  for k:=0;k<8;k++{
  var p []r3.Vec
  w,h,d:=20+25*rnd.Float64(),15+20*rnd.Float64(),6+15*rnd.Float64()
  for i:=0;i<n/2;i++{ s,c:=math.Sincos(2*math.Pi*float64(i)/float64(n/2)); 
   q:=math.Pow(math.Pow(math.Abs(s),4)+math.Pow(math.Abs(c),4),-.25)
   x,y:=w/2*c*q,h/2*s*q
   if y < -h*.3 {y=-h*.3}
   p=append(p,r3.Vec{X:x,Y:y},r3.Vec{X:x,Y:y,Z:d})}
  f:=time.Now(); a:=Points(p,nil)
  t.Logf("n=%d %.1fx%.1fx%.1f %v n=%d %v %.3f..%.3f",n,w,h,d,time.Since(f),a.Attitudes,a.Verdict,a.Clearance,a.AtMost)
 }}
}
