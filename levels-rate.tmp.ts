import { healthyLevels, plantedLevels } from "./tests/bench/watched/level-rates.js";
import { noticeText } from "./src/core/catalogue.js";
const t=Date.now();
for (const kept of ["full","tired"] as const) {
 let w=0, p=0; const d:Record<string,number>={}, m:Record<string,number>={}, e:Record<string,number>={}; let mf=0, s=0, ew=0;
 for (let k=0;k<Number(process.argv[2]??2);k++){ const h=healthyLevels(7140100+k,kept); w+=h.weeks;p+=h.pages;mf+=h.measureFirst;s+=h.silent;ew+=h.arrival.weeks; for(const [x,n] of Object.entries(h.dangers)) d[x]=(d[x]??0)+n; for(const [x,n] of Object.entries(h.measures)) m[x]=(m[x]??0)+n; for(const [x,n] of Object.entries(h.arrival.dangers)) e[x]=(e[x]??0)+n;}
 console.log(kept,"weeks",w,"dangers",d,"measure%",100*mf/p,m,"silent%",100*s/p,"arrival",ew,e,(Date.now()-t)/1000);
 for (let k=0;k<Number(process.argv[3]??3);k++) for (const r of plantedLevels(7140500+k,kept)) if(!r.found) console.log("MISSED",kept,r.seed,r.danger,r.animalId,new Date(r.at).toISOString(), r.level.level, r.level.reasons.map(x=>noticeText(x.sentence)));
 console.log((Date.now()-t)/1000);
}
