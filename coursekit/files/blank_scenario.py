"""Where a new scenario begins: a file of the format whose figures are still to be given.

No figure stands in it: a mass or a rating that nobody wrote must not pass for one.
"""

BLANK = """\
format: 1
id:                       # lower case, digits and hyphens, as in ford-exit
title:
level: foundation
brief:
method: vector
expect: go
stuck_vehicle:
  name:
  mass:                   # as it stands: load, people and water included
  at: [0, 0]              # east and north, in metres
  exit:                   # bearing along which it must move
  points: {}
ground:
  surface:
  bogged: none
anchors: {}
gear: {}
rigs: {}
tasks: []
"""
