"""Names as people write them in their logs, with what each means: written down before the matcher was tried on them.

A line is `written | code`, or `written | code | implement` where a machine, grip or other variation is kept apart.
"""

MEANT = """
Squat | squat
SQUATS | squat
back squat | squat
Back-Squat | squat
Barbell back squats | squat
BB Squat | squat
Squat (barbell) | squat
Squat - Barbell | squat
squat, barbell | squat
Low bar squat | squat
low-bar back squat | squat
highbar squat | squat
High Bar Back Squat | squat
Squats w/ barbell | squat
Kniebeuge | squat
Kniebeugen | squat
Kniebeugen (Langhantel) | squat
Langhantel Kniebeuge | squat
LH Kniebeuge | squat
LH-Kniebeugen | squat
Kniebeugen mit Langhantel | squat
KNIEBEUGEN | squat
Kniebuege | squat
Sqaut | squat
Squatt | squat
Front squat | front-squat
Front Squats (barbell) | front-squat
Squat (front) | front-squat
BB front squat | front-squat
Frontkniebeuge | front-squat
Front Kniebeugen | front-squat
Frontkniebeugen LH | front-squat
Paused squat | paused-squat
pause squats | paused-squat
Squat (paused) | paused-squat
Kniebeuge (mit Pause) | paused-squat
Box squats | box-squat
SSB squat | safety-bar-squat
Safety bar squat | safety-bar-squat
Smith machine squat | guided-bar-squat
Squat (smith machine) | guided-bar-squat
Kniebeuge Multipresse | guided-bar-squat
Zercher squats | front-elbow-squat
OHS | overhead-squat
Goblet squat | goblet-squat
DB Goblet Squat | goblet-squat
Goblet squat (dumbbell) | goblet-squat
Goblet Squat KB | kettlebell-goblet-squat
kettlebell goblet squats | kettlebell-goblet-squat
Goblet Squats Kettlebell | kettlebell-goblet-squat
Air squats | body-mass-squat
BW squats | body-mass-squat
Pistol squats | single-leg-squat
wall sit | wall-sit
Leg press | leg-press
leg-press | leg-press
LEG PRESS | leg-press
Leg Press #3 | leg-press | 3
Leg press (no. 2) | leg-press | 2
Leg Press Machine | leg-press
45 degree leg press | leg-press
Leg press 45° | leg-press
Beinpresse | leg-press
Beinpresse 2 | leg-press | 2
Beinpresse Gerät 14 | leg-press | 14
Beinpresse Nr. 3 | leg-press | 3
Beinpressen | leg-press
Beinpresse einbeinig | single-leg-leg-press
Single leg leg press | single-leg-leg-press
Leg press, single leg | single-leg-leg-press
1-leg leg press | single-leg-leg-press
Leg press wide stance | leg-press | wide
leg press (narrow stance) | leg-press | narrow
Seated leg press | pin-leg-press
Horizontal leg press | pin-leg-press
Hack squat | hack-squat
Hack Squats | hack-squat
Hackenschmidt | hack-squat
Machine hack squat | hack-squat
Belt squat | belt-squat
Deadlift | deadlift
deadlifts | deadlift
Dead lift | deadlift
DL | deadlift
Barbell Deadlift | deadlift
Deadlift (Barbell) | deadlift
Deadlift - conventional | deadlift
conventional DL | deadlift
Dedlift | deadlift
Deadlfit | deadlift
Kreuzheben | deadlift
Kreuzheben LH | deadlift
kreuzheben (langhantel) | deadlift
Kreutzheben | deadlift
Sumo deadlift | sumo-deadlift
Sumo DL | sumo-deadlift
Deadlift (sumo) | sumo-deadlift
Kreuzheben Sumo | sumo-deadlift
Sumo-Kreuzheben | sumo-deadlift
Paused deadlift | paused-deadlift
Deficit Deadlift | deficit-deadlift
Rack pulls | rack-pull
Block pulls | block-pull
Trap bar deadlift | trap-bar-deadlift
Hexbar deadlift | trap-bar-deadlift
Deadlift (trap bar) | trap-bar-deadlift
Deadlift - Hex Bar | trap-bar-deadlift
RDL | romanian-deadlift
RDLs | romanian-deadlift
Romanian Deadlift | romanian-deadlift
Romanian deadlift (barbell) | romanian-deadlift
Romainian deadlift | romanian-deadlift
BB RDL | romanian-deadlift
Rumänisches Kreuzheben | romanian-deadlift
Rumaenisches Kreuzheben | romanian-deadlift
Kreuzheben rumänisch | romanian-deadlift
DB RDL | dumbbell-romanian-deadlift
RDL (DB) | dumbbell-romanian-deadlift
Dumbbell Romanian Deadlifts | dumbbell-romanian-deadlift
RDL dumbbells | dumbbell-romanian-deadlift
single leg RDL | single-leg-romanian-deadlift
SL RDL | single-leg-romanian-deadlift
Stiff leg deadlift | stiff-leg-deadlift
stiff legged deadlifts | stiff-leg-deadlift
SLDL | stiff-leg-deadlift
Kreuzheben gestreckt | stiff-leg-deadlift
Good mornings | good-morning
Hip thrust | hip-thrust
Barbell hip thrusts | hip-thrust
Hip Thrust (Barbell) | hip-thrust
Hipthrust | hip-thrust
Hip thrust machine | machine-hip-thrust
Glute bridge | glute-bridge
Glute bridges (barbell) | barbell-glute-bridge
Beckenheben | glute-bridge
KB swings | kettlebell-swing
Kettlebell Swings | kettlebell-swing
Swings (kettlebell) | kettlebell-swing
Back extensions | back-extension
45 degree back extension | back-extension
Hyperextensions | back-extension
Rückenstrecker | back-extension
Rueckenstrecker | back-extension
Cable pull throughs | cable-pull-through
Bench press | bench-press
Bench | bench-press
BENCH PRESS | bench-press
BP | bench-press
Bench Press (Barbell) | bench-press
BB bench | bench-press
Barbell bench press | bench-press
flat bench | bench-press
Flat barbell bench press | bench-press
Benchpress | bench-press
Bench pres | bench-press
Bnech press | bench-press
Barbell Bench Pres | bench-press
Bankdrücken | bench-press
bankdruecken | bench-press
Bankdrucken | bench-press
Bankdrüken | bench-press
Bankdrücken LH | bench-press
LH Bankdrücken | bench-press
Bankdrücken (Langhantel) | bench-press
Flachbankdrücken | bench-press
Paused bench | paused-bench-press
Bench (paused) | paused-bench-press
Bankdrücken mit Pause | paused-bench-press
Incline bench | incline-bench-press
Incline Bench Press (Barbell) | incline-bench-press
incline bb bench | incline-bench-press
Incline barbell press | incline-bench-press
Bench press incline | incline-bench-press
Bench Press - Incline | incline-bench-press
Bench press (incline) | incline-bench-press
Schrägbankdrücken | incline-bench-press
Schraegbankdruecken LH | incline-bench-press
Schrägbankdrücken (Langhantel) | incline-bench-press
Decline bench press | decline-bench-press
Negativbankdrücken | decline-bench-press
CGBP | close-grip-bench-press
Close grip bench | close-grip-bench-press
Bench close grip | close-grip-bench-press
Bench press (close grip) | close-grip-bench-press
Close-Grip Bench Press | close-grip-bench-press
Bankdrücken eng | close-grip-bench-press
Enges Bankdrücken | close-grip-bench-press
Floor press | floor-press
Smith machine bench press | guided-bar-bench-press
Bench Press (Smith Machine) | guided-bar-bench-press
DB bench | dumbbell-bench-press
DB Bench Press | dumbbell-bench-press
Dumbell bench press | dumbbell-bench-press
Dumbbell Bench | dumbbell-bench-press
Bench press (dumbbell) | dumbbell-bench-press
Bench Press - Dumbbells | dumbbell-bench-press
flat DB bench press | dumbbell-bench-press
Bankdrücken KH | dumbbell-bench-press
KH Bankdrücken | dumbbell-bench-press
Kurzhantelbankdrücken | dumbbell-bench-press
Bankdrücken mit Kurzhanteln | dumbbell-bench-press
single arm DB bench press | dumbbell-bench-press | single arm
Incline DB press | incline-dumbbell-press
DB incline bench | incline-dumbbell-press
Incline dumbell press | incline-dumbbell-press
Incline Bench Press (Dumbbell) | incline-dumbbell-press
incline dumbbell bench press | incline-dumbbell-press
Schrägbankdrücken KH | incline-dumbbell-press
Schrägbankdrücken mit Kurzhanteln | incline-dumbbell-press
KH Schrägbankdrücken | incline-dumbbell-press
Machine chest press | machine-chest-press
Chest press machine | machine-chest-press
Chest Press (Machine) | machine-chest-press
Brustpresse | machine-chest-press
Brustpresse Gerät | machine-chest-press
Brustpresse 7 | machine-chest-press | 7
Push ups | push-up
Pushups | push-up
push-up | push-up
Press-ups | push-up
Liegestütze | push-up
Liegestuetzen | push-up
Diamond push ups | close-grip-push-up
single leg press ups | push-up | single leg
Incline push-ups | hands-elevated-push-up
Decline push up | feet-elevated-push-up
DB flyes | dumbbell-fly
Dumbbell Flys | dumbbell-fly
Flyes (dumbbell) | dumbbell-fly
Cable flys | cable-fly
Cable flies | cable-fly
Cable crossover | cable-fly
Cable Crossovers | cable-fly
Pec deck | machine-fly
Pec Dec | machine-fly
Butterfly | machine-fly
Butterfly (Maschine) | machine-fly
Butterfly Reverse | machine-reverse-fly
Reverse Butterfly | machine-reverse-fly
reverse pec deck | machine-reverse-fly
OHP | overhead-press
Overhead Press | overhead-press
Overhead Press (Barbell) | overhead-press
Overhead press BB | overhead-press
Overheadpress | overhead-press
Overhed press | overhead-press
Military press | overhead-press
Strict Press | overhead-press
Überkopfdrücken | overhead-press
Ueberkopfdruecken | overhead-press
Schulterdrücken Langhantel | overhead-press
Schulterdrücken LH | overhead-press
Push press | push-press
Seated barbell OHP | seated-barbell-press
DB shoulder press | dumbbell-shoulder-press
Shoulder Press (Dumbbell) | dumbbell-shoulder-press
Seated DB shoulder press | dumbbell-shoulder-press
Shoulder press DB | dumbbell-shoulder-press
Dumbbell OHP | dumbbell-shoulder-press
Overhead press (dumbbell) | dumbbell-shoulder-press
Schulterdrücken KH | dumbbell-shoulder-press
Schulterdrücken mit Kurzhanteln | dumbbell-shoulder-press
KH-Schulterdrücken | dumbbell-shoulder-press
Arnold press | rotating-dumbbell-press
Machine shoulder press | machine-shoulder-press
Shoulder press machine | machine-shoulder-press
Shoulder Press (Machine) | machine-shoulder-press
Schulterdrücken Maschine | machine-shoulder-press
Schulterpresse | machine-shoulder-press
KB press | kettlebell-press
Landmine press | angled-barbell-press
Dips | dip
Dip | dip
weighted dips | dip
Bench dips | bench-dip
Assisted dips | assisted-dip
Barbell row | barbell-row
Barbell Rows | barbell-row
BB row | barbell-row
Row (barbell) | barbell-row
Bent over row | barbell-row
Bent-Over Barbell Rows | barbell-row
bent over rows (barbell) | barbell-row
Langhantelrudern | barbell-row
LH Rudern | barbell-row
Rudern (Langhantel) | barbell-row
Rudern LH vorgebeugt | barbell-row
Rudern vorgebeugt | barbell-row
Pendlay row | dead-stop-row
T-Bar row | t-bar-row
T bar rows | t-bar-row
Seal row | bench-pull
DB row | dumbbell-row
DB Rows | dumbbell-row
Row (dumbbell) | dumbbell-row
One arm DB row | dumbbell-row
1-arm DB row | dumbbell-row
Single-arm dumbbell row | dumbbell-row
One-arm dumbbell rows (left) | dumbbell-row
Kurzhantelrudern | dumbbell-row
KH Rudern einarmig | dumbbell-row
Einarmiges Rudern KH | dumbbell-row
Chest supported DB row | supported-dumbbell-row
Seated row | seated-row
Seated cable row | seated-row
Cable row | seated-row
Cable rows (seated) | seated-row
Row - cable | seated-row
Seated cable row (v-bar) | seated-row | v-bar
Kabelrudern | seated-row
Rudern Kabelzug | seated-row
Rudern am Kabelzug eng | seated-row | eng
Machine row | machine-row
Rudern Maschine | machine-row
Rudern am Gerät | machine-row
Inverted rows | inverted-row
Face pulls | face-pull
Facepulls | face-pull
Face pull (rope) | face-pull
DB shrugs | dumbbell-shrug
Shrugs (barbell) | barbell-shrug
BB Shrug | barbell-shrug
Upright rows | upright-row
Pull ups | pull-up
Pullups | pull-up
Pull-Up | pull-up
pull up (weighted) | pull-up
Weighted pullups | pull-up
Wide grip pull ups | pull-up | wide
Klimmzüge | pull-up
Klimmzuege | pull-up
Klimmzug | pull-up
Klimmzüge Obergriff | pull-up
Neutral grip pull-ups | neutral-grip-pull-up
Chin ups | chin-up
Chinups | chin-up
Klimmzüge Untergriff | chin-up
Assisted pull ups | assisted-pull-up
Pull up (assisted) | assisted-pull-up
Lat pulldown | lat-pulldown
Lat Pulldowns | lat-pulldown
Lat Pull Down | lat-pulldown
LAT pull-down | lat-pulldown
Lat pulldown (cable) | lat-pulldown
Lat puldown | lat-pulldown
lat pulldown (wide) | lat-pulldown | wide
Wide grip lat pulldown | lat-pulldown | wide
Lat pulldown - wide grip | lat-pulldown | wide
Lat Pulldown 2 | lat-pulldown | 2
Pulldowns | lat-pulldown
Latzug | lat-pulldown
Latziehen | lat-pulldown
Lat-Ziehen | lat-pulldown
Latzug breit | lat-pulldown | breit
Latzug eng | close-grip-pulldown
Latzug (Gerät 12) | lat-pulldown | 12
Close grip lat pulldown | close-grip-pulldown
Lat pulldown (close grip) | close-grip-pulldown
Reverse grip lat pulldown | underhand-pulldown
Straight arm pulldown | straight-arm-pulldown
DB pullover | dumbbell-pullover
Split squat | split-squat
DB split squats | split-squat
Split squat (dumbbell) | split-squat
Bulgarian split squat | rear-raised-split-squat
Bulgarian Split Squats (DB) | rear-raised-split-squat
BSS | rear-raised-split-squat
RFESS | rear-raised-split-squat
Bulgarian squats | rear-raised-split-squat
Bulgarische Kniebeuge | rear-raised-split-squat
Walking lunges | walking-lunge
Lunges | walking-lunge
DB walking lunge | walking-lunge
Lunges (walking) | walking-lunge
Ausfallschritte | walking-lunge
Ausfallschritte mit KH | walking-lunge
Reverse lunges | reverse-lunge
DB reverse lunge | reverse-lunge
Ausfallschritte rückwärts | reverse-lunge
Barbell lunges | barbell-lunge
Side lunges | lateral-lunge
Step ups | step-up
DB step-up | step-up
Farmers walk | farmers-carry
Farmer's Carry | farmers-carry
Farmers carries | farmers-carry
Suitcase carry | suitcase-carry
Sled push | sled-push
Plank | plank
Planks | plank
Unterarmstütz | plank
Side plank | side-plank
Side plank left | side-plank
Side plank (R) | side-plank
Copenhagen plank | adductor-side-plank
Hanging leg raises | hanging-leg-raise
Leg raise (hanging) | hanging-leg-raise
Hanging knee raises | hanging-knee-raise
Beinheben im Hang | hanging-leg-raise
Toes to bar | toes-to-bar
Cable crunch | cable-crunch
Cable Crunches | cable-crunch
Crunches | crunch
Sit ups | sit-up
Situps | sit-up
Russian twists | russian-twist
Pallof press | anti-rotation-press
Woodchoppers | cable-rotation
Ab wheel | rollout
Ab wheel rollouts | rollout
Dead bugs | dead-bug
TGU | get-up
Barbell curl | barbell-curl
BB curls | barbell-curl
Barbell bicep curl | barbell-curl
Bicep curl (barbell) | barbell-curl
Biceps Curl - Barbell | barbell-curl
LH Curls | barbell-curl
Langhantelcurls | barbell-curl
EZ bar curl | ez-bar-curl
EZ-Bar Curls | ez-bar-curl
SZ Curls | ez-bar-curl
DB curl | dumbbell-curl
Dumbbell Bicep Curls | dumbbell-curl
Bicep Curl (Dumbbell) | dumbbell-curl
Biceps curls DB | dumbbell-curl
KH-Curls | dumbbell-curl
Bizepscurls KH | dumbbell-curl
alternating DB curls | dumbbell-curl
Hammer curls | hammer-curl
DB hammer curl | hammer-curl
Hammer Curl (Dumbbell) | hammer-curl
Hammercurls | hammer-curl
Incline DB curls | incline-curl
Preacher curls | preacher-curl
Scottcurls | preacher-curl
Concentration curls | concentration-curl
Cable curls | cable-curl
Bicep curl (cable) | cable-curl
Bizepscurls am Kabel | cable-curl
Tricep pushdown | triceps-pushdown
Triceps pushdowns | triceps-pushdown
Triceps Pushdown (Rope) | triceps-pushdown
Tricep push downs | triceps-pushdown
Rope pushdowns | triceps-pushdown
Tricpes pushdown | triceps-pushdown
Trizepsdrücken Kabel | triceps-pushdown
Trizepsdrücken am Kabelzug | triceps-pushdown
Trizepsdruecken | triceps-pushdown
Skull crushers | skull-crusher
Skullcrushers | skull-crusher
Skull crusher (EZ bar) | skull-crusher
Overhead DB extension | dumbbell-overhead-triceps-extension
Overhead cable tricep extension | cable-overhead-triceps-extension
Tricep kickbacks | triceps-kickback
Lateral raise | lateral-raise
Lateral raises | lateral-raise
Lateral Raise (Dumbbell) | lateral-raise
DB lateral raises | lateral-raise
DB side raises | lateral-raise
Latteral raises | lateral-raise
Lateral raise (cable) | cable-lateral-raise
Cable lateral raises | cable-lateral-raise
Lateral raise machine | machine-lateral-raise
Seitheben | lateral-raise
Seitheben KH | lateral-raise
Seitheben Kabel | cable-lateral-raise
Seitheben am Gerät | machine-lateral-raise
Front raises | front-raise
Rear delt fly | rear-delt-raise
Rear delt flyes | rear-delt-raise
Leg extension | leg-extension
Leg Extensions | leg-extension
Leg extension (machine) | leg-extension
Leg extention | leg-extension
Leg ext | leg-extension
Beinstrecker | leg-extension
Beinstrecker Gerät 5 | leg-extension | 5
Single leg extension | single-leg-extension
Leg curl | leg-curl
Leg curls | leg-curl
Lying leg curl | leg-curl
Seated Leg Curl | leg-curl
Leg curl (seated) | leg-curl
Leg Curl - Lying | leg-curl
Hamstring curls | leg-curl
Hamstring curl machine | leg-curl
Beinbeuger | leg-curl
Beinbeuger liegend | leg-curl
Beinbeuger sitzend | leg-curl
Nordic curls | nordic-curl
Calf raises | calf-raise
Standing calf raise | calf-raise
Calf raise (standing) | calf-raise
Seated calf raises | seated-calf-raise
Calf raise (seated) | seated-calf-raise
Wadenheben | calf-raise
Wadenheben sitzend | seated-calf-raise
Wadenheben stehend | calf-raise
Calf press | leg-press-calf-raise
Single leg calf raise | single-leg-calf-raise
Hip abduction | hip-abduction
Hip adduction machine | hip-adduction
Abduktoren | hip-abduction
Adduktoren | hip-adduction
Adduktoren Maschine | hip-adduction
Power clean | power-clean
Power cleans | power-clean
Clean & jerk | clean-and-jerk
Clean and Jerk | clean-and-jerk
Snatch | snatch
Hang power clean | hang-power-clean
Umsetzen | clean
Dead hang | dead-hang
""".strip().splitlines()

# Could be several exercises, or none that is known: a person must say.
MUST_ASK = (
    "row", "rows", "Rudern", "press", "Presses", "curl", "Curls", "Bicep curls", "Bizepscurl", "shoulder press",
    "Schulterdrücken", "chest press", "raise", "fly", "flyes", "Fliegende", "extension", "tricep extension",
    "overhead extension", "kickbacks", "leg raises", "Beinheben", "knee raise", "French press", "chest fly", "shrugs",
    "pull", "push", "squat press", "legs", "Beine", "chest", "Brust", "arms", "back", "abs", "cardio", "Running",
    "Laufband", "Treadmill 20 min", "Rowing machine", "Rudergerät", "bike", "stretching", "Yoga", "Aufwärmen",
    "warm up", "machine 4", "Gerät 14", "#3", "2", "dumbbell", "barbell", "DB press", "BB press", "KH Drücken",
    "Kabel", "bench row", "chest supported row", "incline", "incline row", "seated press", "decline", "jump squat",
    "box jumps", "burpees", "band pull apart", "incline barbell fly", "reverse hack deadlift", "cable squat",
    "machine deadlift", "wrist roller", "zottmann hammer overhead thing", "x", "?", "",
    "   ", "???", "Übung 3", "exercise 1", "Day A", "Squat 5x5", "squat 100kg", "bench + squat",
    "squat / deadlift", "front squat or leg press", "superset bench row", "Hip thrust abduction", "leg curl press",
    "curl machine extension", "Bench press machine 3", "medicine ball throw", "tire flip", "decline squat",
    "lying row", "cable deadlift", "kettlebell bench press", "incline deadlift", "seated squat", "hanging row",
    "barbell lateral raise", "machine split squat", "leg extension curl", "lat raise pulldown", "sumo squat press",
)  # fmt: skip


def meant() -> tuple[tuple[str, str, str | None], ...]:
    """Written name, code, implement."""
    rows = [[part.strip() for part in line.split("|")] for line in MEANT]
    return tuple((row[0], row[1], row[2] if len(row) > 2 else None) for row in rows)
