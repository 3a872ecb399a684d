"""By word, the signs it speaks for; `studies/sign_weights.py` writes it."""

TEXT = r"""
<ache> f6 k3; <arm> f5; <asleep> j3; <beat> e10; <bend> i2; <blood> b3 c3; <blur> d3 g3; <bone>
a4; <breath> b14; <brown> c5 h11; <burst> a2 f4 g2; <calf> k6; <cannot> i3 l3; <cause> k2;
<chest> a11 e2; <clothes> e3; <colour> d4; <cough> c11; <day> i3; <dead> j4; <everything> g2;
<eyes> g9; <faint> d16; <fatigue> g3; <filler> d3 e3; <gasp> b13; <grip> j4; <hand> j3;
<hard_work> a3 b2 f4; <head> g9; <headache> g10; <heart> a2 e10; <heavy> f4; <jaw> f10; <joint>
l6; <limb> j6 k3; <muscle> i5; <neck> f4; <no_effort> b3; <numb> j11; <one_calf> k7; <other> d2;
<out_of_blue> b2; <pain> a4; <palp> e12; <part> j2 l8; <pee> h8; <pee_only> h11 j3; <place> d5
g3; <pop> l9; <press> a8 f3; <rate> e3; <rate_bad> e3 k3; <rhabdo> i3; <ribs> a3; <sharp> l5;
<sore> a2 k2; <spin> d6; <spotty> g6; <stab> l9; <stroke> g5; <swell> h3 i8 k3; <tear> l3;
<up_down> d2; <weak> j3; <work> e2; ache f3; achilles k2; again a3; air b3; ankles i3; arm f6;
armpit l2; arms i3; aspirin f2; back g2; bang l2; bar l3; bat g2; beat e4; beats e4; been g2;
behind k3; being f2; bench d2; bend l2; between d2 f3; bird e3; blades f4; blood c3; blue b3;
blurred g2; bone l2; boot k4; both f4; bottle i2; breast a3; breath b2; breathe b3; breathless
b3; brick a3; brown h3; bruise l2; buckled d2; calf k5; came g3; carries a3; catching j2; caught
d2; centre a3; challenge i2; chest a6; chin f3; ck i4; clean d2; colour h2 i4; comes f2; coming
l2; cord k2; cotton j3; cough c4; coughed c4; coughing c3; couldnt g3; crunch l2; day i2; days
i4; deck d2; dent l2; dentist j3; dizzy d3; do b2; doing b2; down d2; drowning b3; dvt k2; easy
k3; edges d2; elbow l2; else j3; everything g4; exertion b2; eye g5; faint d3; fall d3; fat i2;
feel j6; feet d2; few d2; fingers j3; finished l3; fish e5; fist a2; flat b4; flight b3; floor
b2 d3; flopping e3; fluid i3; foot j6; friday i3; from f3; front a4; galloping e3; gap k2; gave
l3; gaviscon a2; glass g3; go a2 l2; goblet b3; grip j3; gtn a3; hadnt g2; hand j4; head g4;
headache g7; heard l3; heart a3 e5; heartbeat e3; heartburn a4; heavy a2; hill f2; hit g3;
holding d3; hot k2; hubby k2; i d2; idea d3; in l3; incline f2; indigestion a4; inhaler b3; is
i2 k3; itself e3; jaw f8; jolt l2; keeps j2; kept e2; knee k2 l5; knees d3; know e2; left f6 k4;
leg j2 k6; legs d3; letters g3; light d3; lightheaded d3; like h2; loo h2; looked i2; looking
g3; lower f3 k2; lunge l2; lungs b2; machine e3; measured k5; mid g2; middle a5; mine i2;
minutes e2; mirror g3; n i2; nearly d3; neck f4; needed b2; needles j3; next d2; numb j3; off
e2; on f2; one g3 k4; only a2 f5; open b3; out d2 l3; overnight k2; pain f3; palpitations e3;
palps e3; paper j2; pec l3; pen j3; people d2; phlegm b4; phone g2; pins j3; popped l2; possible
e2; press d2; pressing a3; quads i3; rack g3; racked d3; read g4; reading e3; reception l2; rep
l3; rhabdo i3; ribs a3; right j5 k5; ringing d2; rolled l2; round a3; row b2; saddle j2; same
k4; sats b3; say g2; says b2; seconds d3; secs d2; see g4; seeing g3; sentence b3; set a2; sharp
l5; shin k3; shiny i2; shoulder f4; side g2; since j3; skin i3; skipped b2; skull g4; slow e2;
slurred g2; snatch l2; sob b5; sock k3; sore a2 k2; sound d2; spit b3; spray a4; spread f2;
stabbing l2; stairs i3; stand j3; standing d2; sternum a2; still e2; stop a3; strap e2; swollen
i2; talk b2; talking g3; tea h2; teeth f2; that l3; then e3; there g4; thing d2; think k2; third
d2; this e2; thought k2; three b3; thru a3 g2; thunderclap g3; time d2; tingling j2; to f3; toe
j5; toes j5; toilet h3; tongue a3; took a3; toothache f5; turn l3; turned l2; two g3; under f2
k2; upright d2; used i2; usually b2; velcro l3; vice a3; vision g3; walk h2; wall d2; warm k3;
warmup a3; watch e4; way l3; weight a3; were g2; when a3 f2; wing f2; wiping j2; with a3; wood
j2; wool j3; woozy d3; word b2; words g4; wrist f2
"""[1:]
