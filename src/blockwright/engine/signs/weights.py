"""Weights of words in notes, in twentieths; written by studies/sign_weights.py."""

START = -92
OF_A_RULE = 40
WEIGHTS = """
,=-12 ,_3=9 ,_<after_no>=3 ,_<arm>=4 ,_<bad>=-3 ,_<be>=-4 ,_<beat>=-2 ,_<blur>=-8 ,_<calf>=3
,_<cannot>=3 ,_<chest>=-4 ,_<clothes>=10 ,_<day>=3 ,_<dead>=-2 ,_<deny>=2 ,_<expected>=-20
,_<fatigue>=2 ,_<filler>=6 ,_<good>=-4 ,_<if>=5 ,_<limb>=6 ,_<lose>=-3 ,_<me>=-3 ,_<muscle>=3
,_<no_effort>=10 ,_<odd>=-4 ,_<one_calf>=3 ,_<other>=8 ,_<out_of_blue>=-2 ,_<said_no>=6
,_<said_rest>=3 ,_<sharp>=6 ,_<sore>=3 ,_<stab>=-6 ,_<swell>=3 ,_<thing>=5 ,_<very>=-4 ,_<work>=-3
,_back=-2 ,_been=4 ,_both=-3 ,_calf=3 ,_cant=6 ,_chest=-4 ,_couldnt=5 ,_dont=5 ,_dropped=4
,_every=9 ,_fine=4 ,_gone=-3 ,_good=-4 ,_got=-10 ,_had=3 ,_i=2 ,_it=3 ,_its=5 ,_just=-8 ,_last=6
,_lasted=3 ,_left=3 ,_like=6 ,_little=-7 ,_long=-6 ,_loosened=-4 ,_missed=-5 ,_need=-2 ,_new=3
,_no=3 ,_normal=-8 ,_normally=4 ,_not=2 ,_now=-7 ,_on=7 ,_one=5 ,_only=3 ,_right=-4 ,_sat=3
,_sharp=6 ,_shoot=-7 ,_skin=4 ,_skipped=5 ,_sore=3 ,_still=5 ,_stopped=7 ,_stretched=-5 ,_then=3
,_third=6 ,_thought=3 ,_told=-4 ,_took=3 ,_usual=-4 ,_went=-4 .=19 1=-3 100=-7 100kg=-3
10_<no_effort>=6 10_min=5 10kg=-3 12=-4 140=-7 15=2 180=4 190=10 1_<fatigue>=-4 1_rep=-5 2=-1
20=-3 20_<no_effort>=6 20s=-5 210=8 2_,=-4 2_<fatigue>=4 2_<no_effort>=-2 2_<out_of_blue>=-3
2_<with>=6 2_days=-3 2nd=-1 3=8 3_,=3 3_<fatigue>=-4 3_sets=-5 3x10=-5 3x12=-5 3x15=-3 3x5=-2
3x8=-6 4=7 45=-4 4th=6 5=-5 50=4 52=-4 5_<no_effort>=2 5x3=-7 5x5=-3 6=5 60=-2 7=-1 8=3 80=2 9=-3
90=-2 <ache>=11 <ache>_,=2 <ache>_from=-5 <ache>_in=-6 <ache>_on=1 <advice>=-31 <advice>_on=-6
<after_no>=-9 <after_no>_chest=-4 <after_no>_dizziness=-3 <after_no>_idea=7 <after_no>_pain=-3
<after_no>_reason=4 <after_no>_strength=4 <after_no>_tingling=-5 <arm>=2 <arm>_,=3 <arm>_ache=3
<arm>_on=7 <asleep>_after=-4 <asleep>_on=-6 <bad>=5 <be>=15 <be>_,=-2 <be>_a=-5 <be>_back=-3
<be>_better=-5 <be>_brown=3 <be>_by=-3 <be>_chest=-4 <be>_dizzy=-6 <be>_fine=-1 <be>_going=6
<be>_grand=-5 <be>_in=6 <be>_it=-4 <be>_light=-7 <be>_lightheaded=-3 <be>_like=10 <be>_me=-5
<be>_missing=-5 <be>_my=-3 <be>_off=5 <be>_on=8 <be>_out=4 <be>_really=3 <be>_round=6
<be>_sharp=-4 <be>_strong=-4 <be>_swollen=3 <be>_that=3 <be>_the=-9 <be>_tight=5 <be>_to=7
<be>_up=8 <be>_weak=-3 <be>_well=-7 <be>_worse=3 <beat>=20 <beat>_,=7 <beat>_again=4
<beat>_beats=7 <beat>_heart=8 <beat>_in=3 <beat>_over=3 <beat>_the=-5 <bend>=1 <bend>_my=4
<bend>_the=-6 <blur>=21 <blur>_after=3 <blur>_by=-3 <blur>_lights=4 <blur>_my=4 <blur>_on=4
<blur>_out=-6 <blur>_to=-3 <blur>_vision=6 <bone>=12 <breath>=22 <breath>_in=4 <breath>_lying=5
<breath>_on=3 <breath>_properly=4 <breath>_since=4 <brown>=17 <brown>_brown=4 <brown>_coloured=7
<brown>_juice=-5 <brown>_rice=-5 <brown>_wee=3 <burn>=-5 <burst>=19 <burst>_after=-9 <burst>_at=-4
<burst>_headache=5 <burst>_in=2 <burst>_on=6 <burst>_or=-7 <burst>_under=3 <calf>_are=-5
<calf>_is=5 <calf>_on=-5 <calf>_raises=-3 <calf>_swollen=3 <cannot>=30 <cannot>_after=-8
<cannot>_bend=3 <cannot>_breathe=3 <cannot>_catch=5 <cannot>_come=5 <cannot>_focus=6
<cannot>_get=3 <cannot>_go=4 <cannot>_make=4 <cannot>_read=6 <cannot>_straighten=3 <cannot>_to=4
<cause>=-16 <cause>_,=-6 <cause>_in=-4 <cause>_on=-4 <chest>=15 <chest>_,=3 <chest>_and=-3
<chest>_discomfort=4 <chest>_during=5 <chest>_on=3 <chest>_pain=-2 <chest>_tight=5 <clothes>=-11
<clothes>_of=3 <clothes>_too=-4 <colour>=-3 <day>=9 <day>_down=3 <dead>=9 <dead>_,=4
<dead>_after=-9 <dead>_by=-6 <dead>_for=5 <dead>_on=-9 <deny>_breathless=-6 <deny>_chest=-7
<deny>_dizziness=-3 <deny>_dizzy=-6 <deny>_eat=7 <deny>_get=-9 <deny>_go=4 <deny>_had=-4
<deny>_hurt=-8 <deny>_idea=7 <deny>_in=-5 <deny>_of=-6 <deny>_pain=-5 <deny>_reason=4
<deny>_remember=9 <deny>_sharp=-8 <deny>_sleep=4 <deny>_strength=4 <deny>_the=5 <deny>_tingling=-5
<everything>=2 <everything>_,=3 <everything>_after=4 <everything>_board=-4 <everything>_fine=-3
<everything>_for=5 <everything>_in=2 <everything>_off=-5 <everything>_on=-7 <everything>_session=3
<everything>_today=-5 <everything>_was=2 <everything>_went=5 <expected>=-26 <expected>_,=3
<expected>_in=-4 <expected>_now=4 <extreme>=1 <extreme>_headache=5 <extreme>_swollen=8
<extreme>_weak=5 <eyes>=23 <eyes>_board=-4 <eyes>_from=-4 <eyes>_went=5 <faint>=38 <faint>_,=-9
<faint>_after=5 <faint>_and=6 <faint>_cold=6 <faint>_headed=-4 <faint>_in=6 <faint>_no=-6
<faint>_on=13 <faint>_out=8 <faint>_over=5 <faint>_spell=5 <fatigue>_2=4 <fatigue>_3=2
<fatigue>_4=4 <fatigue>_5=4 <fatigue>_and=-2 <fatigue>_for=-8 <fatigue>_in=-9 <fatigue>_left=5
<fatigue>_on=-10 <fatigue>_rep=-2 <fatigue>_the=2 <fatigue>_then=-6 <fatigue>_two=-3 <filler>=3
<filler>_,=-1 <filler>_2=-3 <filler>_20=-7 <filler>_3=-4 <filler>_5=2 <filler>_80=5
<filler>_ache=8 <filler>_air=5 <filler>_always=-4 <filler>_and=-7 <filler>_any=-5 <filler>_arm=-3
<filler>_arse=-4 <filler>_bar=-4 <filler>_be=2 <filler>_beat=4 <filler>_beating=5 <filler>_bed=3
<filler>_bench=3 <filler>_better=-5 <filler>_between=3 <filler>_bit=-2 <filler>_both=4
<filler>_breastbone=4 <filler>_breath=-1 <filler>_breathless=-6 <filler>_by=-1 <filler>_calf=4
<filler>_calves=-5 <filler>_chalk=-5 <filler>_chest=-3 <filler>_class=-5 <filler>_cold=-4
<filler>_colour=4 <filler>_comp=-4 <filler>_day=-5 <filler>_deck=5 <filler>_dips=4
<filler>_discomfort=4 <filler>_dizzy=-10 <filler>_doing=6 <filler>_down=1 <filler>_easy=5
<filler>_elbow=6 <filler>_every=-7 <filler>_eye=4 <filler>_eyes=-3 <filler>_faint=2 <filler>_few=3
<filler>_fine=-2 <filler>_flat=-8 <filler>_floor=-2 <filler>_foot=3 <filler>_for=4 <filler>_full=5
<filler>_garage=-7 <filler>_going=4 <filler>_good=-2 <filler>_grand=-5 <filler>_groin=5
<filler>_gym=-5 <filler>_hand=4 <filler>_hands=-7 <filler>_head=2 <filler>_hip=3 <filler>_hour=3
<filler>_i=4 <filler>_in=-3 <filler>_is=-5 <filler>_it=-7 <filler>_its=4 <filler>_jaw=7
<filler>_jelly=-3 <filler>_kid=-4 <filler>_knees=4 <filler>_lads=-4 <filler>_left=6 <filler>_leg=3
<filler>_legs=4 <filler>_lightheaded=-3 <filler>_like=7 <filler>_lockout=4 <filler>_lower=4
<filler>_me=-3 <filler>_mid=5 <filler>_middle=4 <filler>_min=-4 <filler>_minute=-2 <filler>_my=1
<filler>_neck=-1 <filler>_new=-9 <filler>_nothing=5 <filler>_nowhere=5 <filler>_of=-3
<filler>_off=3 <filler>_ok=-3 <filler>_on=8 <filler>_one=-3 <filler>_only=6 <filler>_other=3
<filler>_out=5 <filler>_over=7 <filler>_pain=-5 <filler>_pec=3 <filler>_platform=5 <filler>_pop=3
<filler>_press=1 <filler>_pump=-7 <filler>_quads=-5 <filler>_rack=2 <filler>_rate=-4
<filler>_really=3 <filler>_reception=8 <filler>_rep=-5 <filler>_reps=-5 <filler>_rest=3
<filler>_right=4 <filler>_round=4 <filler>_same=5 <filler>_second=7 <filler>_session=2
<filler>_sets=-2 <filler>_sharp=-5 <filler>_shirt=4 <filler>_shoes=-4 <filler>_shoulder=3
<filler>_side=1 <filler>_skipped=7 <filler>_squat=-3 <filler>_start=8 <filler>_stiff=-5
<filler>_strong=-3 <filler>_swimmy=5 <filler>_swollen=-4 <filler>_tank=-4 <filler>_that=4
<filler>_the=-9 <filler>_tight=1 <filler>_time=-3 <filler>_to=7 <filler>_touch=6
<filler>_training=7 <filler>_treadmill=5 <filler>_twice=5 <filler>_up=2 <filler>_w=8
<filler>_walk=5 <filler>_warm=-3 <filler>_weak=-4 <filler>_wee=-4 <filler>_well=-7 <filler>_went=6
<filler>_whole=4 <filler>_wife=6 <filler>_with=-4 <filler>_woozy=5 <filler>_word=7
<filler>_worse=4 <gasp>=30 <gasp>_after=-8 <gasp>_from=5 <gasp>_on=5 <gasp>_out=-6 <gasp>_tying=4
<gasp>_walking=7 <good>=-6 <grip>=-4 <hand>=7 <hand>_on=3 <hard_work>=-8 <hard_work>_,=9 <head>=4
<headache>=14 <heart>=24 <heart>_jumping=6 <heart>_of=-7 <heart>_rate=-4 <heavy>=3
<heavy>_after=-7 <heavy>_single=-5 <if>=-10 <if>_my=-6 <jaw>=18 <jaw>_and=5 <jaw>_clenched=-6
<jaw>_pain=5 <limb>=10 <limb>_,=3 <limb>_after=2 <limb>_are=-2 <limb>_clicks=-4 <limb>_day=-1
<limb>_doms=-5 <limb>_from=-3 <limb>_gave=6 <limb>_in=-2 <limb>_is=4 <limb>_just=3 <limb>_n=4
<limb>_numb=5 <limb>_of=7 <limb>_on=-2 <limb>_pain=-4 <limb>_popped=6 <limb>_pump=-5
<limb>_pumped=-4 <limb>_raises=-3 <limb>_so=-7 <limb>_swelled=4 <limb>_swollen=3 <limb>_tight=-3
<limb>_tingling=8 <limb>_to=-2 <limb>_went=3 <limb>_wont=4 <lose>=-5 <lose>_,=-3 <lose>_by=-2
<lose>_chest=-4 <lose>_dark=-8 <lose>_dizziness=-3 <lose>_idea=7 <lose>_light=-7 <lose>_my=4
<lose>_out=-4 <lose>_pain=-3 <lose>_reason=4 <lose>_strength=4 <lose>_tingling=-5 <lose>_to=-3
<me>=12 <me>_arm=-3 <me>_back=3 <me>_breath=-6 <me>_chest=4 <me>_did=4 <me>_eyes=-3 <me>_hands=-4
<me>_head=-2 <me>_nearly=-4 <me>_off=-5 <me>_own=-5 <me>_shoes=3 <me>_started=-6 <me>_think=5
<me>_up=-5 <me>_was=3 <muscle>=7 <muscle>_and=3 <muscle>_clicks=-4 <muscle>_down=5 <muscle>_gave=5
<muscle>_gone=4 <muscle>_pain=-6 <muscle>_popped=12 <muscle>_so=4 <muscle>_sore=-5
<muscle>_stiff=-5 <muscle>_to=-2 <muscle>_went=4 <neck>=2 <no_effort>=11 <no_effort>_after=5
<no_effort>_again=5 <no_effort>_and=-4 <no_effort>_breathless=6 <no_effort>_did=-5
<no_effort>_down=6 <no_effort>_for=2 <no_effort>_had=-3 <no_effort>_headed=-4 <no_effort>_hurt=-4
<no_effort>_like=-5 <no_effort>_me=6 <no_effort>_my=4 <no_effort>_on=12 <no_effort>_reason=4
<no_effort>_sharp=-5 <no_effort>_since=4 <no_effort>_then=5 <no_effort>_there=3
<no_effort>_today=3 <no_effort>_up=9 <no_effort>_was=-5 <numb>=19 <numb>_fingers=4 <numb>_in=5
<odd>=9 <odd>_,=-3 <odd>_after=4 <one_calf>=16 <one_calf>_,=3 <one_calf>_is=5 <one_calf>_on=-5
<one_calf>_raises=-3 <one_calf>_swollen=3 <other>=-15 <other>_else=4 <other>_fainted=-7
<other>_got=-5 <other>_had=-8 <other>_has=-8 <other>_in=-5 <other>_passed=-6 <out_of_blue>=16
<out_of_blue>_,=-6 <out_of_blue>_after=2 <out_of_blue>_arm=-1 <out_of_blue>_calf=5
<out_of_blue>_eye=4 <out_of_blue>_flight=4 <out_of_blue>_hand=5 <out_of_blue>_headed=-4
<out_of_blue>_in=-2 <out_of_blue>_leg=4 <out_of_blue>_only=4 <out_of_blue>_reason=4
<out_of_blue>_side=8 <out_of_blue>_up=-4 <pain>=16 <pain>_on=5 <pain>_or=-6 <pain>_when=-4
<palp>=26 <palp>_again=6 <palp>_beats=3 <part>=4 <part>_,=3 <part>_a=-5 <part>_ache=4
<part>_after=3 <part>_and=-8 <part>_are=-2 <part>_at=2 <part>_back=4 <part>_burning=-3
<part>_clicks=-4 <part>_day=-4 <part>_discomfort=4 <part>_doms=-8 <part>_from=-3 <part>_gave=5
<part>_gone=5 <part>_in=-4 <part>_is=2 <part>_just=3 <part>_like=3 <part>_more=-5 <part>_numb=5
<part>_of=2 <part>_on=4 <part>_pain=-5 <part>_popped=13 <part>_puffed=-5 <part>_pump=-6
<part>_pumped=-4 <part>_raises=-3 <part>_since=2 <part>_snapped=6 <part>_sore=-4 <part>_stiff=-6
<part>_swelled=3 <part>_swollen=3 <part>_tingling=8 <part>_today=-5 <part>_went=14 <part>_when=2
<part>_wont=5 <pee>=20 <pee>_,=2 <pee>_brown=5 <pee>_is=5 <pee>_like=5 <pee_only>=22
<pee_only>_,=3 <pee_only>_after=-3 <pee_only>_brown=5 <pee_only>_was=3 <place>=5 <place>_went=4
<pop>=8 <pop>_,=5 <pop>_and=4 <pop>_in=4 <pop>_on=-4 <pop>_the=-5 <pop>_through=-5 <press>=10
<press>_feeling=4 <press>_in=9 <rate>=3 <rate>_rate=-4 <rate_bad>=14 <rate_bad>_rest=1
<rate_bad>_to=3 <rhabdo>=4 <ribs>=4 <said_no>=-5 <said_no>_chest=-4 <said_no>_dizziness=-3
<said_no>_idea=7 <said_no>_pain=-5 <said_no>_reason=4 <said_no>_strength=4 <said_no>_tingling=-5
<said_rest>_10=-4 <said_rest>_4=-5 <said_rest>_5=-3 <said_rest>_a=4 <said_rest>_after=9
<said_rest>_all=-6 <said_rest>_and=6 <said_rest>_any=-6 <said_rest>_bad=4
<said_rest>_breathless=-4 <said_rest>_chest=-3 <said_rest>_couldnt=-10 <said_rest>_did=2
<said_rest>_dizzy=-9 <said_rest>_easy=-3 <said_rest>_even=4 <said_rest>_faint=4
<said_rest>_feel=-5 <said_rest>_fine=-2 <said_rest>_finished=-6 <said_rest>_flight=4
<said_rest>_from=6 <said_rest>_going=3 <said_rest>_got=-2 <said_rest>_grand=-5 <said_rest>_had=-3
<said_rest>_home=-5 <said_rest>_i=5 <said_rest>_is=-3 <said_rest>_it=-3 <said_rest>_jaw=3
<said_rest>_lightheaded=-4 <said_rest>_lungs=-6 <said_rest>_morning=4 <said_rest>_my=-5
<said_rest>_myself=5 <said_rest>_no=-3 <said_rest>_not=5 <said_rest>_now=4 <said_rest>_off=2
<said_rest>_ok=-3 <said_rest>_on=4 <said_rest>_only=5 <said_rest>_out=-5 <said_rest>_over=4
<said_rest>_pain=-6 <said_rest>_really=5 <said_rest>_rest=2 <said_rest>_running=6
<said_rest>_sat=6 <said_rest>_session=6 <said_rest>_side=5 <said_rest>_slow=-7
<said_rest>_started=-7 <said_rest>_still=5 <said_rest>_strong=-4 <said_rest>_swollen=5
<said_rest>_take=-5 <said_rest>_that=5 <said_rest>_the=8 <said_rest>_think=5 <said_rest>_tight=4
<said_rest>_to=7 <said_rest>_today=-7 <said_rest>_was=5 <said_rest>_week=3 <said_rest>_when=3
<sharp>=7 <sharp>_,=4 <sharp>_pain=4 <sore>=-7 <sore>_,=-4 <sore>_from=-5 <spin>=10 <spotty>=15
<spotty>_vision=3 <stab>=11 <stab>_at=-9 <stab>_in=11 <stab>_pain=4 <stroke>=10 <swell>=19
<swell>_and=3 <swell>_calf=3 <swell>_up=4 <tear>=1 <tear>_in=3 <tear>_through=-5 <thing>=12
<thing>_a=4 <thing>_dizzy=-5 <thing>_in=5 <thing>_it=6 <thing>_lightheaded=-5 <thing>_like=4
<thing>_my=4 <thing>_something=4 <thing>_strong=-4 <thing>_today=-4 <thing>_up=-5 <thing>_was=3
<told>=4 <told>_a=-3 <told>_her=-6 <told>_i=5 <told>_me=3 <told>_the=-9 <told>_to=-8 <up_down>=1
<up_down>_,=5 <up_down>_a=-4 <up_down>_be=2 <up_down>_gym=7 <up_down>_in=-4 <up_down>_it=-4
<up_down>_my=-2 <up_down>_neck=6 <up_down>_one=6 <up_down>_reception=8 <up_down>_the=8
<up_down>_to=-3 <very>=9 <very>_,=6 <very>_a=4 <very>_always=-4 <very>_arm=-2 <very>_arms=5
<very>_arse=-4 <very>_back=-3 <very>_bar=-2 <very>_bench=7 <very>_big=-5 <very>_bit=-4
<very>_breastbone=4 <very>_breath=-4 <very>_calf=1 <very>_calves=-5 <very>_chest=-2
<very>_colour=4 <very>_couldnt=-8 <very>_deck=5 <very>_dizzy=11 <very>_elbow=4 <very>_eyes=-3
<very>_faint=5 <very>_fainted=7 <very>_few=3 <very>_fine=-5 <very>_finger=4 <very>_flat=-6
<very>_floor=-3 <very>_front=6 <very>_garage=-4 <very>_groin=4 <very>_gym=-3 <very>_hand=4
<very>_hands=-5 <very>_headache=-4 <very>_heart=-4 <very>_in=-4 <very>_jaw=5 <very>_jelly=-5
<very>_kid=-4 <very>_last=3 <very>_left=4 <very>_leg=3 <very>_legs=4 <very>_middle=3 <very>_min=-4
<very>_neck=-3 <very>_new=-5 <very>_of=3 <very>_one=-4 <very>_other=3 <very>_pec=3 <very>_pop=3
<very>_press=4 <very>_rack=2 <very>_rep=-7 <very>_reps=-5 <very>_right=3 <very>_second=6
<very>_session=4 <very>_sets=-2 <very>_sharp=7 <very>_shirt=4 <very>_shoes=3 <very>_shoulder=-3
<very>_side=-4 <very>_sore=-3 <very>_squat=-3 <very>_stiff=-4 <very>_swollen=3 <very>_tight=-1
<very>_treadmill=5 <very>_walk=5 <very>_weak=6 <very>_wee=-8 <very>_weight=3 <very>_wife=6
<very>_word=5 <weak>=-5 <weak>_after=-8 <with>=2 <with>_10=-6 <with>_2=3 <with>_20=-5 <with>_3=4
<with>_5=3 <with>_80=5 <with>_a=1 <with>_an=4 <with>_be=2 <with>_chest=-3 <with>_each=6
<with>_gym=5 <with>_home=-5 <with>_i=3 <with>_it=1 <with>_left=-3 <with>_max=5 <with>_me=-11
<with>_my=11 <with>_neck=2 <with>_no=-5 <with>_nothing=3 <with>_nowhere=5 <with>_one=3
<with>_reception=8 <with>_rest=6 <with>_set=-4 <with>_shoulder=3 <with>_that=-4 <with>_the=1
<with>_time=-5 <with>_training=5 <with>_work=-5 <work>=-7 <work>_,=-6 <work>_in=-4 <work>_ok=5
<work>_on=-2 <work>_partner=4 a=6 a_<beat>=4 a_<burst>=4 a_<cause>=-3 a_<fatigue>=-3 a_<filler>=-7
a_<headache>=-5 a_<limb>=-10 a_<no_effort>=2 a_<other>=-7 a_<part>=-7 a_<pee>=-6 a_<pee_only>=-6
a_<pop>=8 a_<press>=5 a_bit=-2 a_few=3 a_headache=-5 a_min=-4 a_pop=3 a_walk=6 a_wee=-5 about=2
about_<filler>=6 abs=-6 ache=13 ache_<up_down>=3 aching=4 across=6 af=8 after=17 after_2=3
after_3=4 after_<fatigue>=8 after_<filler>=3 after_<hard_work>=-5 after_<part>=3
after_<said_rest>=5 after_<work>=5 after_a=-5 after_each=5 after_max=6 after_that=-5 after_the=3
after_training=3 again=15 again_<said_rest>=3 again_on=7 ago=-6 air=12 alert=6 all=-6
all_<expected>=-4 all_<fatigue>=-4 all_<filler>=-8 all_<out_of_blue>=5 all_<up_down>=7
all_<work>=3 all_session=3 almost=5 almost_<faint>=5 always=-6 an=8 an_<no_effort>=5 an_hour=2
and=16 and_10=-5 and_<after_no>=-5 and_<be>=4 and_<breath>=-6 and_<burst>=7 and_<dead>=5
and_<everything>=3 and_<fatigue>=5 and_<filler>=-3 and_<jaw>=4 and_<limb>=4 and_<lose>=-5
and_<me>=7 and_<muscle>=3 and_<no_effort>=5 and_<said_rest>=8 and_<thing>=5 and_<told>=6
and_<very>=5 and_a=-4 and_i=2 and_it=4 and_jaw=3 and_no=-5 and_the=5 ankles=10 any=-13
any_<filler>=-5 anymore=-8 are=-7 arm=1 arm_<ache>=5 arm_<be>=2 arm_<burst>=1 arm_<dead>=5
arm_<filler>=1 arm_<said_rest>=-3 arm_<very>=5 arm_<work>=-6 arms=-6 arms_<said_rest>=-5
arms_<very>=-3 arms_<with>=-3 arse=-4 article=-6 as=-7 as_<expected>=-5 as_<fatigue>=5 as_<me>=3
as_<no_effort>=-3 as_<very>=4 as_a=-3 as_i=3 as_last=3 as_usual=-3 asked=4 asleep=-3 at=6
at_<everything>=-3 at_<filler>=2 at_<no_effort>=3 at_<said_rest>=-4 at_<very>=3 at_rest=1 at_the=3
back=-3 back_,=-4 back_<ache>=4 back_<filler>=5 back_<said_rest>=-12 back_<up_down>=-3
back_<very>=-5 back_<with>=-5 back_after=-5 back_of=5 bad=13 bad_<filler>=4 band=-8 bang=6 bar=-14
bar_<be>=-3 bar_<fatigue>=-3 bar_<filler>=-4 bar_<said_rest>=-3 bar_<with>=-6 bc=4 be=-4 beat=8
beating=5 beats=13 bed=2 been=7 beetroot_juice=-5 before=-2 before_<filler>=-7 before_<very>=-6
before_the=-3 behind=4 below=5 belt=-9 bench=-4 bend=3 better=-12 between=7 between_<fatigue>=-4
between_machines=6 between_sets=-4 bicep=8 bicep_<pop>=5 bicep_<tear>=5 bigger=7 bigger_than=5
bike=-5 bike_,=2 binned=6 bit=1 bit_<faint>=10 bit_<filler>=-1 bit_<with>=-4 black=-3 blacked=4
blacked_out=5 blind=3 block=-2 blood=2 blow=6 blowing=-6 blurred=8 blurry=3 board=-7 bone=9 both=4
both_<arm>=3 both_<filler>=2 both_<limb>=1 both_<muscle>=7 both_<part>=3 both_feet=3 bothered=-5
bowl=4 bp=6 brace=-4 breastbone=5 breath=1 breath_<filler>=4 breath_<no_effort>=5
breath_<said_rest>=-6 breath_<very>=5 breath_on=3 breath_since=4 breathe=2 breathe_<very>=3
breathing=-3 breathing_<be>=5 breathing_<filler>=6 breathless=9 breathless_<filler>=3
breathless_<no_effort>=5 breathless_<said_rest>=6 breathless_<with>=-4 breathless_after=-6
briefly=5 broke=-5 brother=-5 brown=9 brown_<pee>=6 brown_<pee_only>=6 brown_rice=-5 bruised=-1
burn=-3 burning=2 bus=5 but=-2 by=-11 by_<out_of_blue>=-3 by_<very>=2 by_the=3 calf=14 calf_,=3
calf_<ache>=5 calf_<be>=4 calf_<burst>=5 calf_<filler>=5 calf_<pain>=3 calf_<said_rest>=7
calf_<very>=4 calf_<with>=4 calf_<work>=-7 calf_is=5 calf_on=-5 calf_raises=-3 called=5 callus=-6
calves=-16 calves_<be>=-5 calves_<burst>=-5 came=9 came_<limb>=2 came_<part>=2 came_<up_down>=4
came_<with>=4 came_back=2 came_out=4 can=-4 can't=6 can_<said_rest>=-5 cant=4 cant_<bend>=1
cant_<filler>=4 cardio=-4 carried=-3 carried_on=-4 carries=7 carries_,=5 carry=3 catch=7
catch_<filler>=3 catching=4 centre=4 centre_<filler>=4 chalk=-9 check=-7 checked=-3
checked_<very>=-7 chest=2 chest_<ache>=5 chest_<burst>=8 chest_<filler>=2 chest_<no_effort>=-3
chest_<pain>=4 chest_<press>=9 chest_<with>=-2 chest_<work>=-6 chest_and=-4 chest_discomfort=4
chest_pain=-2 chest_tight=5 chicken=-8 chin=9 chins=-7 ck=8 class=-4 clean=-3 clear=-9 clenched=-6
clicks=-4 coach=-10 coach_<told>=-2 coffee=-6 coffee_<said_rest>=-6 cold=3 collapsed=-5 colour=6
colour_<filler>=2 colour_<with>=3 colour_of=2 coloured=7 coloured_<pee>=5 coloured_<pee_only>=5
comes=2 comp=-8 comp_,=-5 cos=7 could=7 couldn't=7 couldn't_<bend>=-4 couldnt=7 couldnt_<be>=-4
couldnt_get=4 count=-5 cramp=-6 cramp_<filler>=-6 cramp_in=-6 cramped=-5 cue=-9 curl=-5 curls=-3
cut=3 cut_<filler>=8 dark=-2 day=-9 dead=-1 deadlift=10 deads=-1 deads_,=-4 deads_<said_rest>=4
deck=5 deep=4 defib=5 deload=-3 dentist=4 depth=-5 desk=-3 did=-2 did_<deny>=6 did_<everything>=-4
did_<filler>=5 did_<me>=-4 did_<said_no>=5 did_<thing>=-4 did_it=-4 did_my=-3 did_not=5 didnt=-3
died=-4 discomfort=11 dizziness=-7 dizzy=-2 dizzy_,=-5 dizzy_<filler>=6 do=5 do_<said_rest>=-3
do_<very>=4 doc=-4 doesnt=-6 doesnt_<burst>=-9 doesnt_<pain>=-5 doesnt_hurt=-5 doing=15
doing_<beat>=6 doing_<hard_work>=6 doing_<no_effort>=7 doms=-20 doms_,=-4 doms_<filler>=-6
doms_in=-5 done=-7 dont=8 dont_remember=8 door=-8 door_<filler>=-5 doubled=6 down=11 down_,=2
down_<filler>=-4 down_<limb>=4 down_<out_of_blue>=5 down_<said_rest>=3 down_<up_down>=-5
down_<very>=1 down_<with>=-5 down_to=-3 drank=-4 drink=4 drop=-7 dropped=4 drunk=6 dull=7
dull_<burst>=4 during=16 during_<fatigue>=5 during_<work>=9 during_squats=6 each=4
each_<fatigue>=6 early=-4 easy=-4 easy_<fatigue>=4 eat=3 effort=5 elbow=7 else=4 enough=5
enough_<breath>=7 even=8 evening=7 every=10 every_<fatigue>=6 every_<heavy>=3 every_<said_rest>=-4
every_heavy=3 everyone=-6 everything=4 everything_<blur>=7 everything_<filler>=8 exertion=8
extra=-3 extra_<no_effort>=-7 eye=4 face=-4 faint=-6 faint_<said_rest>=-5 fainted=5
fainted_<with>=-5 fast=-4 fat=4 feel=-1 feel_<faint>=-6 feel_<very>=5 feel_faint=-6 feeling=13
feeling_<filler>=5 feeling_in=4 feels=4 feet=2 felt=-7 felt_<dead>=-4 felt_<everything>=3
felt_<expected>=-4 felt_<faint>=-4 felt_<filler>=2 felt_<good>=-8 felt_<me>=7 felt_<thing>=6
felt_<very>=-3 felt_a=2 felt_dizzy=-3 felt_faint=5 felt_it=3 felt_lightheaded=-5 felt_like=1
felt_strong=-4 few=4 few_secs=3 finally=-8 fine=2 finger=5 fingers=6 finished_<filler>=5
finisher=-4 fire=-4 first=-5 first_<said_rest>=-5 flashes=5 flat=-2 fluttering=6 flyes=-5 foam=3
for=1 for_<after_no>=3 for_<breath>=5 for_<deny>=3 for_<filler>=4 for_<lose>=3 for_<out_of_blue>=2
for_<part>=-8 for_<said_no>=3 for_<very>=5 for_a=10 for_breath=4 for_no=3 for_the=-6 form=-3
free=-5 from=-10 from_<day>=-3 from_<deny>=6 from_<fatigue>=3 from_<limb>=3 from_<part>=6
from_<very>=1 from_<work>=-1 funny=-6 garage=-7 gasping=9 gasping_<with>=4 gave=3 get_<faint>=-5
get_dizzy=-5 getting=-3 getting_<filler>=-4 giddy=12 giddy_<with>=7 glutes=-4 go=8 goes=1
goes_<dead>=-5 goes_<numb>=-5 goes_numb=-5 going=8 going_<filler>=4 gone=-9 gone_<filler>=3
gone_<with>=-7 gone_by=-3 good=-9 got=-8 got_<everything>=-4 got_<odd>=3 got_<part>=5
got_<said_rest>=-3 got_<thing>=-3 got_<very>=-6 got_it=-3 got_off=3 grand=-5 grip=-1 grip_<be>=-4
grip_<blur>=-4 grip_<lose>=-6 grip_<out_of_blue>=4 grip_<said_rest>=5 grip_<very>=5 groin=8 guy=-7
gym=-9 ha=-5 had_<chest>=-6 had_<filler>=-3 had_<part>=-6 had_<said_rest>=-5 had_<up_down>=9
had_<very>=-3 had_<with>=9 had_a=-3 had_chest=-6 had_to=9 haha=-16 hair=-2 half=-5 half_<filler>=3
half_<no_effort>=-5 hamstring=5 hamstring_<pop>=7 hand=9 hands=-8 hands_<filler>=-4 happy=-5
hard=-1 hard_<with>=-6 hard_after=-8 has=-6 has_<be>=3 head=2 head_<be>=5 head_<blur>=6
head_<said_rest>=-2 head_<very>=-5 headache=18 headed=-3 heard=3 heard_<everything>=5
heard_<filler>=3 heard_<said_rest>=5 heard_<thing>=6 heard_<very>=3 heard_it=5 heart=-1
heart_<be>=7 heart_<beat>=14 heart_<burst>=-3 heart_<said_rest>=-6 heart_<with>=-15 heart_rate=-4
heartbeat=6 heat=4 heavy=5 heavy_<filler>=-3 heavy_<with>=-8 heavy_<work>=6 heavy_after=-7
heavy_single=-5 helped=-7 her=-13 high=-3 hill=3 him=-11 hips=-5 his=-9 his_<part>=-6
hit_<filler>=2 hit_the=2 hold=-5 holding=6 holding_<filler>=4 holding_<very>=4 hole=-4 home=5
hospital=5 hot=11 hour=3 hr=-7 hrs=4 hurt=-5 hurt_<filler>=-6 hurts=-2 i=12 i'd=5 i_<be>=-1
i_<cannot>=-2 i_<deny>=2 i_<filler>=-5 i_<no_effort>=6 i_<thing>=1 i_<told>=-4 i_did=4
i_started=-6 i_think=5 i_was=3 id=7 idea=7 if=-16 if_<filler>=-11 if_<me>=-8 if_<part>=-6
if_<said_rest>=-6 if_<very>=-5 if_i=-4 if_my=-5 im=-3 im_<filler>=-5 in=4 in_<chest>=3
in_<everything>=-2 in_<filler>=3 in_<limb>=6 in_<muscle>=6 in_<no_effort>=3 in_<part>=15
in_<very>=5 in_<with>=-5 in_<work>=-3 in_bed=3 in_both=3 in_chest=3 in_the=-2 inhaler=6 inner=4
inner_<limb>=4 inner_<muscle>=4 inner_<part>=4 inside=7 instead=-5 into=3 irregular=12 is=-11
is_<brown>=2 is_<burst>=7 is_<filler>=-7 is_<said_rest>=4 is_<very>=-8 is_a=-5 is_like=4 it=-3
it_,=1 it_<be>=-4 it_<said_rest>=-3 it_<with>=3 it_today=-4 it_was=3 its=14 jaw=9 jaw_<be>=4
jaw_<burst>=6 jaw_<lose>=-5 jaw_<pain>=5 jaw_<press>=6 jaw_clenched=-6 jaw_pain=5 jeans=4 jelly=-3
juice=-4 jumped=-3 jumping=6 jumps=-5 just=9 just_<cannot>=-3 just_<deny>=3 just_<filler>=3
just_<lose>=4 just_<no_effort>=7 kardia=9 keeled=5 keeled_<up_down>=5 keeled_over=5 keep=5 keeps=3
kept=-2 kept_<everything>=-7 kept_<filler>=-5 kept_<me>=-6 kid=-4 knackered=-7 knee=5 knee_,=5
knee_<burst>=-5 knee_<pop>=4 kneecap=7 lads=-3 last_<fatigue>=-3 last_<out_of_blue>=-3
last_<said_rest>=-2 last_rep=-3 lasted=4 late=-9 lats=-6 laughing=-6 lay=5 left=6 left_,=4
left_<arm>=3 left_<hand>=-5 left_<limb>=1 left_<muscle>=4 left_<out_of_blue>=3 left_hand=3
left_side=3 leg=5 leg_<be>=2 leg_<filler>=3 leg_<work>=-6 legs=-5 legs_<dead>=-5 legs_<filler>=-3
let=4 let_<filler>=4 lie=6 lift=-2 lifting=3 light=-5 light_<said_rest>=-4 light_headed=-4
lightheaded=9 lights=7 lights_<blur>=6 like=17 like_<brown>=8 like_<expected>=-4 like_<filler>=5
like_<me>=4 like_<other>=4 like_<very>=6 like_<weak>=-4 like_a=5 like_always=-4 like_jelly=-5
lines=6 little=-3 locked=5 lockout=3 log=-5 lol=-30 long_<with>=6 long_after=6 look=-3 looked=4
looking=6 loosened=-5 lost_<filler>=-3 lost_<very>=2 low=-2 lower=4 lower_<limb>=6 lower_<part>=6
lower_back=4 lump=3 lungs=5 lying=9 machines=5 made=-2 marks=-3 mate=5 max=3 maybe=7 me=4
me_<odd>=-4 me_<part>=3 me_<very>=-5 me_off=-4 me_on=-5 measured=7 mid=16 mid_<fatigue>=7
mid_<said_rest>=6 mid_<work>=6 mid_session=6 middle=5 middle_<filler>=4 middle_<with>=4
middle_of=4 min=-6 min_,=-3 min_<with>=3 min_after=5 mind=-4 mins=2 mins_<with>=5 mins_after=5
minute_,=-6 minutes=4 missed=-12 mobility=-3 month=8 more=-2 morning=2 moved=-2 muscle=-2 music=-7
my=1 my_<arm>=-3 my_<breath>=-4 my_<calf>=-1 my_<chest>=5 my_<clothes>=5 my_<fatigue>=-2
my_<filler>=1 my_<hand>=-2 my_<jaw>=5 my_<limb>=-3 my_<out_of_blue>=-3 my_<part>=12 my_<pee>=3
my_<pee_only>=4 my_<place>=-2 my_<very>=3 my_arm=-3 my_back=3 my_breath=-7 my_chest=2 my_eyes=-3
my_hands=-4 my_head=-2 my_legs=4 my_shoes=3 myself=6 myself_<filler>=7 n=18 n_<filler>=2 n_<me>=4
n_<part>=-2 n_<said_rest>=2 n_i=4 nearly=7 nearly_<faint>=5 neck=2 neck_<with>=3 need=-8
need_<filler>=-7 need_<up_down>=-5 need_<with>=-5 need_to=-5 nerves=-8 never=-6
never_<said_rest>=-4 new=-11 new_<no_effort>=-7 new_shoes=-7 next=-7 next_<filler>=4
next_<out_of_blue>=-5 next_<said_rest>=-5 next_<up_down>=4 next_<with>=4 next_to=4 nice=-4
nicely=-9 night_,=5 no_<blur>=-10 no_<breath>=4 no_<brown>=-5 no_<burst>=-4 no_<chest>=-4
no_<faint>=-8 no_<filler>=-1 no_<grip>=5 no_<muscle>=5 no_<numb>=-7 no_<pain>=-3 no_<thing>=4
no_chest=-4 no_dizziness=-3 no_idea=7 no_pain=-3 no_reason=4 no_strength=4 no_tingling=-5 none=-9
none_<filler>=-6 normal=2 normally=10 not=8 not_<filler>=-3 not_<very>=4 nothing=3 noticed=6 now=9
now_,=-7 nowhere=5 numb=8 numb_<limb>=2 numb_<part>=1 numb_<with>=-4 numbers=-3 numbness=5 nurse=7
of=9 of_<breath>=7 of_<everything>=4 of_<fatigue>=-7 of_<filler>=2 of_<me>=2 of_<no_effort>=5
of_<out_of_blue>=4 of_<part>=3 of_<said_rest>=-3 of_<work>=2 of_a=-5 of_my=3 off=-10
off_<filler>=-4 off_<said_rest>=3 off_<very>=4 ok=5 ok_<said_rest>=6 old=-6 on=1 on_<filler>=3
on_<hard_work>=3 on_<limb>=-3 on_<me>=-2 on_<no_effort>=6 on_<out_of_blue>=3 on_<part>=-6
on_<said_rest>=4 on_<very>=4 on_<work>=6 on_a=5 on_every=7 on_my=-5 on_rep=4 on_the=1 once=-6
once_<said_rest>=-6 one=10 one_,=-5 one_<cause>=4 one_<filler>=2 one_<limb>=9 one_<muscle>=3
one_<out_of_blue>=5 one_<part>=4 one_flight=4 one_side=5 only=8 only_<filler>=2 or=-14 or_10=4
or_<faint>=-8 other=5 other_<filler>=4 out=3 out_<cause>=6 out_<dead>=6 out_<said_rest>=7
out_<with>=3 out_cold=6 out_for=-3 out_in=3 out_of=-1 over=11 over_<filler>=2 over_the=4
overhead=3 own=-5 packed=-4 pain=7 pain_,=-3 pain_<after_no>=-7 pain_<filler>=3 pain_<no_effort>=4
pain_<up_down>=5 pain_in=-5 pain_or=-6 panting_<filler>=5 partner=3 passed=-4 passed_out=-4
past=-4 past_<filler>=-5 past_<very>=-5 patch=6 paused=-5 pb=-8 pec=4 pecs=-4 pee=9 pee_<be>=3
pee_<brown>=6 phone=-5 physio=-6 ping=4 plate=4 plates=-12 podcast=-8 pop=2 pop_<filler>=-7
popped=-2 popped_<filler>=-6 pops=-5 possible=11 post=11 post_<work>=6 pounding=2 pr=-6 press=5
pressing=5 pressure=-4 preworkout=-4 proper=8 properly=4 protein=-4 puffed_out=-5 pulling=4
pulls=-3 pulse=11 pulse_<beat>=3 pulse_<said_rest>=4 pump=-10 pump_in=-4 pumped=-12 push=2 put=8
quads=-4 r=4 racing=2 racing_<heart>=4 raises=-2 ran=3 rang=5 rate=-4 read_<very>=4 read_the=4
really=13 reason=8 reception=8 red=2 reddish=4 remember=9 rep=5 rep_,=3 rep_4=7 rep_5=7
rep_<filler>=3 rep_<said_rest>=5 rep_<with>=-4 rep_<work>=-3 reps=-8 rest=7 resting=7 rhabdo=4
rhythm=3 ribs=4 rice=-7 right=3 right_,=8 right_<calf>=4 right_<limb>=5 right_<one_calf>=4
right_<part>=6 right_calf=4 right_on=-8 ring=-6 room=5 room_<filler>=-4 rope=-4 round=8
round_<filler>=6 round_<me>=4 round_<very>=5 round_my=4 row=5 rower=-2 rowing=5 rows=-3 rpe=-4
run=-3 running=9 said=8 same=9 same_<filler>=7 same_as=-7 sat=7 sat_<up_down>=3 sat_down=3 saw=-3
saw_<blur>=7 saw_<filler>=-8 saw_<very>=-9 says=12 schedule=-5 sec=4 second=6 secs=5 see=2
see_<filler>=-5 see_the=-5 seeing=5 seeing_<blur>=5 sensation=5 session=4 session_,=6 set=9
set_,=8 set_1=5 set_<said_rest>=6 set_<with>=-4 sets=-2 sets_<filler>=-4 sets_<very>=5 sharp=6
sharp_,=4 sharp_<burst>=6 sharp_<filler>=4 sharp_<pain>=4 sharp_<said_rest>=-3 sharp_pain=4
shiny=4 shoes=-7 shooting=4 short=6 short_<filler>=4 short_<with>=-2 shot=-4 sick=5 side=-4
side_<filler>=3 side_<with>=3 since=19 since_<day>=8 since_<fatigue>=3 since_<filler>=7
since_<me>=-5 since_<said_rest>=-5 since_<very>=10 since_<work>=3 since_i=-5 since_the=10
single_,=-6 single_<filler>=-4 sit=-2 sitting=2 size=3 skipped=1 skipping=6 sleep=-3 sleep_,=4
slow=-3 slurred=5 so=-22 so_<lose>=-7 so_<me>=-4 so_<said_rest>=-4 so_<swell>=4 so_swollen=4 sob=9
sob_on=7 sock=3 socks=5 someone=4 something=15 something_<pop>=10 something_<tear>=8 sore=-1
sore_<filler>=-1 sore_<said_rest>=4 sore_<up_down>=-1 sore_from=-5 soreness=-7 sorted=-4 speed=-5
spell=5 split=-6 splitting=5 squat=-3 squats=8 squats_,=-2 stabbing=5 stairs=-3 stairs_,=-5
stairs_<up_down>=5 stairs_<very>=5 stance=-5 stand=3 standing=13 standing_<up_down>=7
standing_up=5 stars=-6 start=11 started_<filler>=5 step=2 sternum=6 stiff=-10 still=6 stitch=-4
stood=-4 stop=-8 stop_<said_rest>=-5 stop_<with>=-4 stopped=3 stops=7 straighten=3 straps=-4
strength=5 stretch=-9 stretched=-5 strong=-5 stuff=6 sudden=7 suddenly=3 sumo=-4 sweat=-6 swell=-7
swelled=4 swelled_<up_down>=4 swelled_up=4 swimmy=5 swollen=12 swollen_<calf>=3 swollen_<limb>=2
swollen_<one_calf>=3 swollen_<part>=3 swollen_<said_rest>=3 swollen_<very>=3 swollen_<with>=3
swollen_and=3 swollen_calf=3 t_<clothes>=-4 t_shirt=-4 talking=7 tank=-4 tape=4 tea=7 teeth=6
telly=-6 ten=4 tender=-4 test=3 than=5 than_<expected>=5 than_<filler>=-3 than_<no_effort>=5
than_the=7 that=7 that_<deny>=4 that_<fatigue>=-7 that_<filler>=-4 that_<said_rest>=3 thats=4
the=1 the_<beat>=-3 the_<bone>=4 the_<cause>=-2 the_<dead>=-7 the_<everything>=8 the_<fatigue>=5
the_<filler>=1 the_<hand>=3 the_<hard_work>=3 the_<head>=3 the_<jaw>=3 the_<limb>=8 the_<muscle>=5
the_<neck>=-5 the_<no_effort>=9 the_<other>=6 the_<out_of_blue>=2 the_<part>=3 the_<pee>=5
the_<pee_only>=-3 the_<place>=3 the_<said_rest>=-5 the_<very>=5 the_<work>=5 the_back=-4
the_bar=-3 the_bench=7 the_breastbone=3 the_car=3 the_chest=-6 the_colour=4 the_deck=5
the_floor=-3 the_garage=-4 the_gym=-3 the_last=3 the_left=3 the_middle=3 the_neck=-5 the_new=-5
the_one=-4 the_other=3 the_rack=5 the_second=3 the_squat=-3 the_treadmill=5 the_wrist=4 them=5
then=6 then_<deny>=5 then_<no_effort>=6 then_<said_rest>=9 then_<very>=4 then_<work>=-5
then_nothing=5 there=10 theres=5 theres_<filler>=5 theres_<very>=5 theres_a=5 they=10 thigh=8
thing=9 think=4 third=9 third_<said_rest>=6 this=3 this_<said_rest>=-3 tho=5 thought=7
thought_<everything>=3 thought_<me>=5 thought_<said_rest>=4 thought_<thing>=3 thought_it=3
throat=4 thru=7 thru_<filler>=4 thump=6 thunderclap=6 thunderclap_<headache>=5
thunderclap_headache=5 thurs=4 ticker=14 tight=-10 tight_<part>=-1 tight_<with>=-4 tightness=6
til=6 time_<me>=3 time_<said_rest>=7 time_i=3 times=2 tingling=4 tired=-7 to=6 to_<advice>=-8
to_<be>=2 to_<hand>=4 to_<limb>=6 to_<muscle>=3 to_<no_effort>=-3 to_<part>=2 to_<very>=2 to_be=2
to_the=3 today=6 today_,=2 toe=9 toes=8 told=-9 tonight=5 too=-5 too_<burst>=-4 too_<press>=-4
too_tight=-4 took=1 took_<filler>=-8 took_<very>=-7 took_a=-7 toothache=5 top_<filler>=6
top_<with>=3 top_of=3 tore_<filler>=-4 tore_<up_down>=-5 tore_<very>=-5 tore_through=-4 touch=8
touched=-4 trained_<no_effort>=5 trained_<out_of_blue>=5 trained_light=5 trainer=7 training=8
training_<other>=4 training_<said_rest>=5 training_partner=4 triceps=-6 tuesday=10 turn=3 twang=6
twice=25 twice_on=5 twinge=4 two=3 two_<filler>=6 tying=4 tying_<filler>=4 tying_<me>=4
tying_<very>=4 tying_my=4 under=4 under_<filler>=6 under_<me>=4 under_<very>=5 under_my=4
under_the=3 up=3 up_,=-3 up_<everything>=-5 up_<out_of_blue>=5 up_<said_rest>=-4 up_<up_down>=6
up_<with>=10 up_from=4 up_on=1 up_the=4 urine=8 urine_<with>=-4 urine_after=-5 used=-4
used_<filler>=-5 usual=-9 very=5 video=-10 vision=16 vision_<blur>=8 vision_<press>=3
vision_board=-4 volume=-5 w=6 w_<filler>=3 w_<no_effort>=4 w_<very>=3 w_a=6 w_rest=4 w_the=-3
walk=4 walk_,=5 walking_between=6 warm_<up_down>=-6 warm_up=-7 warmups=-5 was=2 was_<beat>=3
was_<brown>=5 was_<burst>=3 was_<gasp>=5 was_<no_effort>=4 was_<very>=-3 wasn't=-6 watch=12
watch_<told>=5 watch_says=5 watched=-5 water=-9 way=7 way_<filler>=-5 way_<with>=-5 we=-9
weak_<said_rest>=4 weaker=-5 wee_<be>=4 wee_<filler>=4 week=-8 week_,=-4 weeks=-4
weights_<filler>=-5 weird=-5 well=-11 went=3 went_<blur>=4 went_<brown>=3 went_<colour>=3
went_<dead>=3 went_<said_rest>=2 went_<with>=-5 were=3 wet=3 what=-3 when=13 when_<me>=9
when_<no_effort>=4 when_<said_rest>=3 when_i=7 while=3 while_<me>=-5 while_<no_effort>=4
while_i=-5 whole=10 why=6 wider=-5 wife=6 wife_<be>=-6 will=-4 winded=6 with=-3 with_<filler>=2
with_<no_effort>=6 with_<very>=1 with_a=5 wk=-2 woke=9 woke_<up_down>=8 woke_up=8 wont_<bend>=6
wont_<filler>=4 woozy=8 word=7 words=5 words_<be>=5 words_<filler>=4 work=-8 working=-4 works=-7
worse=7 would=-5 wouldnt=7 wrist_<clothes>=-6 wrong=7 x=-5 x2=5 x3=5 years=-10 you=-11 yrs=-6
"""
