"""The job of section 1 of the contract."""

LEVER = """handwheel: 1
job: Tapping stand, moving parts
units: inch
general tolerance: ± 0.005
parts:
  lever:
    quantity: 3
    material: free-cutting mild steel
    outside:
      - ball: hub
      - cone: shank
      - {cylinder: tenon, length: 0.200 +0 -0.005}
    dimensions:
      hub diameter: 9/16 ± 0.001
      shank diameter at hub centre: 11/32
      shank right diameter: 1/4
      tenon diameter: 5/32 h7
  short lever:
    like: lever
    dimensions:
      hub diameter: 7/16
      hub centre to shank right: 1 5/8
  knob:
    quantity: 3
    material: free-cutting mild steel
    outside:
      - ball: grip
        flat: left
    inside:
      from left:
        - hole: socket
          finish: reamed
    dimensions:
      grip diameter: 3/8
      grip left diameter: same as shank right diameter of lever
      socket diameter: 5/32 H7
      socket depth: 0.220
assemblies:
  clamp lever:
    seats:
      - grip left of knob on shank right of lever
    dimensions:
      hub centre of lever to grip centre of knob: 2 1/8
"""
