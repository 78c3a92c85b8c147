"""What would save a sheet: which parts force the last one, and the smallest change that does.

`suggesting` leads: `ground` is what the plan takes of one material, `worths` what its parts
count in the proof, `candidates` the changes worth a try, `trial` solves a changed job, and
`words` says what came of it.
"""
