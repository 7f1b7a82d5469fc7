"""What is kept: typed tables, the engine, migrations, and plain queries.

Every row belongs to a school, and composite foreign keys carry the school
along, so that a row of one school can never point at another's.
"""
