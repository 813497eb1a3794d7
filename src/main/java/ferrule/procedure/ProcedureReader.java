package ferrule.procedure;

import ferrule.curriculum.Curriculum;
import ferrule.curriculum.Position;
import ferrule.curriculum.Problems;
import ferrule.curriculum.SoundPart;
import ferrule.curriculum.YamlNode;
import ferrule.glossary.Concept;
import ferrule.glossary.ConceptId;
import ferrule.glossary.Glossary;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** Reads an instrument's {@code procedures/*.yaml}. */
public final class ProcedureReader {

  private final Glossary glossary;
  private final Cautions cautions;
  private final ToolCrib crib;
  private final Problems problems;
  private final References references;

  private ProcedureReader(Glossary glossary, Cautions cautions, ToolCrib crib, Problems problems) {
    this.glossary = glossary;
    this.cautions = cautions;
    this.crib = crib;
    this.problems = problems;
    this.references = new References(problems);
  }

  /** An instrument's procedures with what they ask for; empty if the cautions or the tool crib have a fault. */
  public static Optional<ProcedureBook> readBook(Curriculum curriculum, Glossary glossary, Problems problems) {
    return CautionReader.read(curriculum, problems)
        .flatMap(cautions -> ToolCribReader.read(curriculum, cautions, problems)
            .map(crib -> new ProcedureBook(read(curriculum, glossary, cautions, crib, problems), crib, cautions)));
  }

  /**
   * The procedures of an instrument that are without fault, by file; each fault is among the problems.
   *
   * @param glossary of the instrument, whose parts the procedures touch
   * @param cautions that the steps name
   * @param crib the tools and materials that the steps name
   */
  public static List<Procedure> read(
      Curriculum curriculum, Glossary glossary, Cautions cautions, ToolCrib crib, Problems problems) {
    Map<String, Position> seen = new HashMap<>();
    List<Procedure> procedures = new ArrayList<>();
    for (String file : curriculum.files(glossary.id() + "/procedures")) {
      Problems own = new Problems();
      Optional<SoundPart> part = curriculum.readSoundPart(file, "procedure", own);
      ProcedureReader reader = new ProcedureReader(glossary, cautions, crib, own);
      Optional<Draft> draft = part.map(sound -> reader.draft(sound, file, seen));
      own.all().forEach(p -> problems.add(p.at(), p.message()));
      if (own.isEmpty()) {
        draft.map(d -> d.procedure(glossary.id())).ifPresent(procedures::add);
      }
    }
    return List.copyOf(procedures);
  }

  /** What a file holds, which is a procedure if no fault was found in it. */
  private record Draft(YamlNode root, List<Step> steps, List<Precedence> precedences) {

    Procedure procedure(String instrument) {
      return new Procedure(
          ProcedureId.of(root.text("id")), root.text("title"), Procedure.Area.parse(root.text("area")), instrument,
          root.text("purpose"), root.text("source"), steps, precedences);
    }
  }

  private Draft draft(SoundPart part, String file, Map<String, Position> seen) {
    YamlNode root = part.root();
    checkName(root.get("id").orElseThrow(), file, seen);
    List<YamlNode> nodes = root.list("steps");
    new PrecedenceCheck(nodes, part.lostIds(), problems).run();
    List<Step> steps = nodes.stream().map(this::step).toList();
    boolean sound = problems.isEmpty();
    return new Draft(root, steps, sound ? nodes.stream().flatMap(n -> before(n).stream()).toList() : List.of());
  }

  private void checkName(YamlNode id, String file, Map<String, Position> seen) {
    String expected = file.substring(file.lastIndexOf('/') + 1).replace(".yaml", "");
    if (!id.text().equals(expected)) {
      problems.add(
          id.at(), "the procedure's id is '" + id.text() + "'; expected the name of its file, '" + expected + "'");
    }
    Position earlier = seen.putIfAbsent(id.text(), id.at());
    if (earlier != null) {
      problems.add(
          id.at(), "procedure id '" + id.text() + "' stands at " + earlier + " too; expected an id of its own");
    }
  }

  private static List<Precedence> before(YamlNode step) {
    StepId later = StepId.of(step.text("id"));
    return step.list("after").stream()
        .map(p -> new Precedence(StepId.of(p.text("step")), later, p.text("slip"), p.text("why")))
        .toList();
  }

  private Step step(YamlNode node) {
    Step step = new Step(
        StepId.of(node.text("id")),
        node.text("name"),
        node.text("do"),
        references.follow(node, "parts", this::part, "a concept of the " + glossary.id() + " glossary"),
        references.follow(node, "tools", crib::tool, "one of the tools of tool-crib.yaml"),
        references.follow(node, "materials", crib::material, "one of the materials of tool-crib.yaml"),
        references.follow(node, "cautions", cautions::find, "one of cautions.yaml"),
        node.list("measure").stream().map(ProcedureReader::measurement).toList(),
        node.list("know").stream().map(ProcedureReader::figure).toList());
    checkCautions(node, step);
    return step;
  }

  /** Where a tool or material that can hurt is used, its caution stands. */
  private void checkCautions(YamlNode node, Step step) {
    step.tools().forEach(tool -> checkCautions(node, step, tool.name(), tool.cautions()));
    step.materials().forEach(material -> checkCautions(node, step, material.name(), material.cautions()));
  }

  private void checkCautions(YamlNode node, Step step, String used, List<Caution> needed) {
    for (Caution caution : needed) {
      if (!step.cautions().contains(caution)) {
        problems.add(node.get("id").orElseThrow().at(), "step '" + step.id() + "' uses " + used
            + " without the caution '" + caution.id() + "'; expected it among its cautions");
      }
    }
  }

  private Optional<ConceptId> part(String id) {
    return glossary.find(ConceptId.of(id)).map(Concept::id);
  }

  private static Measurement measurement(YamlNode node) {
    return new Measurement(node.text("what"), node.text("unit"), node.get("limit").map(ProcedureReader::figure));
  }

  private static Figure figure(YamlNode node) {
    return new Figure(node.text("fact"), node.text("source"));
  }
}
