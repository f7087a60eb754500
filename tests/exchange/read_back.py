"""The second reference: a story's SBML read by python3-sbml5 and integrated by SciPy's LSODA. It shares no line with the
program's right-hand side: the rate laws are taken from the file's own mathematics.

    read_back.py STORY.sbml COURSE.csv   exit 0 if C3 and C4 agree within 1e-3 of their course maximum on every day
"""
import csv
import math
import sys

import libsbml
import numpy
from scipy.integrate import solve_ivp


def expression(node, names):
    """Python source of a MathML tree."""
    kind = node.getType()
    inner = [expression(node.getChild(i), names) for i in range(node.getNumChildren())]
    if kind == libsbml.AST_NAME_TIME:
        return "t"
    if node.isNumber():
        return repr(node.getValue())
    if node.isName():
        return names[node.getName()]
    if kind == libsbml.AST_PLUS:
        return "(" + " + ".join(inner) + ")"
    if kind == libsbml.AST_TIMES:
        return "(" + " * ".join(inner) + ")"
    if kind == libsbml.AST_MINUS:
        return "(-" + inner[0] + ")" if len(inner) == 1 else "(" + inner[0] + " - " + inner[1] + ")"
    if kind == libsbml.AST_DIVIDE:
        return "(" + inner[0] + " / " + inner[1] + ")"
    if kind in (libsbml.AST_POWER, libsbml.AST_FUNCTION_POWER):
        return "(" + inner[0] + " ** " + inner[1] + ")"
    if kind == libsbml.AST_RELATIONAL_LT:
        return "(" + inner[0] + " < " + inner[1] + ")"
    if kind == libsbml.AST_FUNCTION_PIECEWISE:
        text = inner[-1]
        for i in range(len(inner) - 3, -1, -2):
            text = "(" + inner[i] + " if " + inner[i + 1] + " else " + text + ")"
        return text
    raise ValueError("mathematics not expected here: " + libsbml.formulaToL3String(node))


def breaks_of(node, found):
    if node.getType() == libsbml.AST_RELATIONAL_LT:
        found.add(node.getChild(1).getValue())
    for i in range(node.getNumChildren()):
        breaks_of(node.getChild(i), found)


def main(sbml_path, csv_path):
    document = libsbml.readSBMLFromFile(sbml_path)
    if document.getNumErrors(libsbml.LIBSBML_SEV_ERROR) > 0:
        sys.exit(document.getError(0).getMessage())
    model = document.getModel()
    names = {}
    for i, species in enumerate(model.getListOfSpecies()):
        # y holds amounts; a name in a formula is a concentration, in its compartment as it is then.
        names[species.getId()] = "(y[%d] / L_%s)" % (i, species.getCompartment())
    for compartment in model.getListOfCompartments():
        names[compartment.getId()] = "L_" + compartment.getId()
    for parameter in model.getListOfParameters():
        names[parameter.getId()] = repr(parameter.getValue()) if parameter.getConstant() else "L_" + parameter.getId()
    sizes = [" L_%s = %r" % (c.getId(), c.getSize()) for c in model.getListOfCompartments() if c.getConstant()]
    breaks = set()
    # Rules in the order they read each other: a compartment's reads parameters.
    for rule in sorted(model.getListOfRules(), key=lambda r: model.getCompartment(r.getVariable()) is not None):
        sizes.append(" L_%s = %s" % (rule.getVariable(), expression(rule.getMath(), names)))
        breaks_of(rule.getMath(), breaks)
    lines = ["def slopes(t, y):"] + sizes
    terms = {species.getId(): [] for species in model.getListOfSpecies()}
    for i, reaction in enumerate(model.getListOfReactions()):
        law = reaction.getKineticLaw()
        local = dict(names)
        for parameter in law.getListOfLocalParameters():
            local[parameter.getId()] = repr(parameter.getValue())
        lines.append(" r%d = %s" % (i, expression(law.getMath(), local)))
        for part in reaction.getListOfReactants():
            terms[part.getSpecies()].append("-%r * r%d" % (part.getStoichiometry(), i))
        for part in reaction.getListOfProducts():
            terms[part.getSpecies()].append("+%r * r%d" % (part.getStoichiometry(), i))
    lines.append(" return [" + ", ".join(" ".join(terms[s.getId()]) or "0.0" for s in model.getListOfSpecies()) + "]")
    volumes = ["def volumes(t):"] + sizes
    volumes.append(" return [" + ", ".join("L_" + s.getCompartment() for s in model.getListOfSpecies()) + "]")
    scope = {}
    exec("\n".join(lines + volumes), scope)  # the program just read, nothing from outside

    with open(csv_path, newline="") as file:
        rows = list(csv.reader(line for line in file if not line.startswith("#")))
    days = [float(row[0]) for row in rows[1:]]
    columns = {name: rows[0].index(name + " in the blood [g/L]") for name in ("C3", "C4")}
    mass = {"C3": 185.0, "C4": 205.0}  # kDa

    start = numpy.array([s.getInitialConcentration() for s in model.getListOfSpecies()]) * scope["volumes"](0.0)
    place = {s.getId(): i for i, s in enumerate(model.getListOfSpecies())}
    ends = sorted(b for b in breaks if 0 < b < days[-1] * 24) + [days[-1] * 24]
    values = {0.0: start}
    t = 0.0
    y = start
    for end in ends:
        wanted = [24 * d for d in days if t < 24 * d <= end]
        out = solve_ivp(scope["slopes"], (t, end), y, method="LSODA", rtol=1e-7, atol=1e-10, t_eval=sorted(set(wanted + [end])))
        if not out.success:
            sys.exit(out.message)
        for i, when in enumerate(out.t):
            values[round(when / 24, 6)] = out.y[:, i] / scope["volumes"](when)
        t, y = end, out.y[:, -1]

    worst = 0.0
    for name, column in columns.items():
        ours = [float(row[column]) for row in rows[1:]]
        most = max(ours)
        for day, own in zip(days, ours):
            foreign = values[day][place[name]] * mass[name] * 1e-6
            worst = max(worst, abs(own - foreign) / most)
    print("%s: C3 and C4 differ from LSODA by at most %.1e of the course maximum" % (model.getName(), worst))
    return 0 if worst < 1e-3 and math.isfinite(worst) else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1], sys.argv[2]))
