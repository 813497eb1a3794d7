package ferrule.bench;

import ferrule.curriculum.Curriculum;
import ferrule.curriculum.Position;
import ferrule.curriculum.Problems;
import ferrule.curriculum.YamlNode;
import ferrule.glossary.ConceptId;
import ferrule.glossary.Glossary;
import ferrule.glossary.GlossaryReader;
import ferrule.procedure.Caution;
import ferrule.procedure.CautionReader;
import ferrule.procedure.Cautions;
import ferrule.procedure.Procedure;
import ferrule.procedure.ProcedureId;
import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/** Reads an instrument's {@code tasks/*.yaml}. */
public final class TaskReader {

  private final Glossary glossary;
  private final Cautions cautions;
  private final Problems problems;

  private TaskReader(Glossary glossary, Cautions cautions, Problems problems) {
    this.glossary = glossary;
    this.cautions = cautions;
    this.problems = problems;
  }

  /**
   * The tasks of every instrument whose glossary is without fault, with the cautions that they name; each fault is
   * among the problems.
   */
  public static TaskBook readBook(Curriculum curriculum, Problems problems) {
    Optional<Cautions> cautions = CautionReader.read(curriculum, problems);
    List<Task> tasks = new ArrayList<>();
    for (String instrument : curriculum.instruments()) {
      Optional<Glossary> glossary = GlossaryReader.read(curriculum, instrument, problems);
      if (glossary.isPresent() && cautions.isPresent()) {
        tasks.addAll(read(curriculum, glossary.get(), cautions.get(), problems));
      }
    }
    return new TaskBook(curriculum.edition(), cautions.map(Cautions::restsWith).orElse(""), tasks);
  }

  /**
   * The tasks of an instrument that are without fault; each fault is among the problems.
   *
   * @param glossary of the instrument, whose parts the tasks name
   * @param cautions that the tasks name
   */
  public static List<Task> read(Curriculum curriculum, Glossary glossary, Cautions cautions, Problems problems) {
    TaskReader reader = new TaskReader(glossary, cautions, problems);
    Map<TaskId, Position> seen = new HashMap<>();
    List<Task> tasks = new ArrayList<>();
    for (String file : curriculum.files(glossary.id() + "/tasks")) {
      Problems own = new Problems();
      Optional<Task> task = curriculum.read(file, "task", own).flatMap(root -> reader.task(curriculum, root, seen));
      own.all().forEach(p -> problems.add(p.at(), p.message()));
      task.ifPresent(tasks::add);
    }
    return tasks;
  }

  private Optional<Task> task(Curriculum curriculum, YamlNode root, Map<TaskId, Position> seen) {
    TaskId id = TaskId.of(root.text("id"));
    Position earlier = seen.putIfAbsent(id, root.keyAt("id"));
    if (earlier != null) {
      problems.add(root.keyAt("id"), "task id '" + id + "' stands at " + earlier + " too; expected another id");
    }
    Optional<List<Caution>> named = cautionsOf(root);
    Optional<List<ConceptId>> parts = partsOf(root);
    Optional<List<Criterion>> criteria = criteriaOf(root);
    if (earlier != null || named.isEmpty() || parts.isEmpty() || criteria.isEmpty()) {
      return Optional.empty();
    }
    return Optional.of(
        new Task(
            id, root.text("title"), glossary.id(), Procedure.Area.parse(root.text("area")),
            Task.Level.parse(root.text("level")), root.text("purpose"), procedureOf(curriculum, root),
            root.texts("steps"), root.texts("tools"), named.get(), parts.get(),
            root.optionalText("evidence").filter("photo"::equals).isPresent(), root.flag("second-signature", false),
            (int) root.number("pass-percent"), criteria.get()));
  }

  // a procedure's id is the name of its file
  private Optional<ProcedureId> procedureOf(Curriculum curriculum, YamlNode root) {
    Optional<ProcedureId> id = root.optionalText("procedure").map(ProcedureId::of);
    id.filter(i -> curriculum.text(glossary.id() + "/procedures/" + i + ".yaml").isEmpty()).ifPresent(
        i -> problems.add(
            root.get("procedure").orElseThrow().at(),
            "the " + glossary.id() + " has no procedure '" + i + "'; expected the name of one of its files"));
    return id;
  }

  private Optional<List<Caution>> cautionsOf(YamlNode root) {
    List<Caution> found = new ArrayList<>();
    List<YamlNode> nodes = root.list("cautions");
    for (YamlNode node : nodes) {
      Optional<Caution> caution = cautions.find(node.text());
      caution.ifPresentOrElse(
          found::add,
          () -> problems.add(node.at(), "no caution has the id '" + node.text() + "'; expected one of cautions.yaml"));
    }
    return found.size() == nodes.size() ? Optional.of(found) : Optional.empty();
  }

  private Optional<List<ConceptId>> partsOf(YamlNode root) {
    List<ConceptId> found = new ArrayList<>();
    List<YamlNode> nodes = root.list("parts");
    for (YamlNode node : nodes) {
      ConceptId id = ConceptId.of(node.text());
      if (glossary.find(id).isPresent()) {
        found.add(id);
      } else {
        problems.add(
            node.at(), "the " + glossary.id() + " glossary has no concept '" + id + "'; expected one of its ids");
      }
    }
    return found.size() == nodes.size() ? Optional.of(found) : Optional.empty();
  }

  private Optional<List<Criterion>> criteriaOf(YamlNode root) {
    Set<String> ids = new HashSet<>();
    List<Criterion> found = new ArrayList<>();
    List<YamlNode> nodes = root.list("criteria");
    for (YamlNode node : nodes) {
      if (!ids.add(node.text("id"))) {
        problems.add(node.keyAt("id"), "criterion id '" + node.text("id") + "' stands twice; expected another id");
      }
      criterion(node).ifPresent(found::add);
    }
    boolean complete = found.size() == nodes.size() && ids.size() == nodes.size();
    return complete ? Optional.of(found) : Optional.empty();
  }

  private Optional<Criterion> criterion(YamlNode node) {
    if (node.has("rated") == node.has("measured")) {
      problems.add(node.at(), "expected either 'rated' or 'measured', one of the two");
      return Optional.empty();
    }
    // the values' own constructors know what goes together; what they refuse is a fault of the file
    YamlNode kind = node.get("rated").or(() -> node.get("measured")).orElseThrow();
    try {
      return Optional.of(node.has("rated") ? rated(node, kind) : measured(node, kind));
    } catch (IllegalArgumentException e) {
      problems.add(kind.at(), e.getMessage());
      return Optional.empty();
    }
  }

  private static Criterion rated(YamlNode node, YamlNode rated) {
    return new Criterion.Rated(
        node.text("id"), node.text("title"), node.flag("critical", false), (int) node.number("weight"),
        rated.texts("levels"), (int) rated.number("pass"));
  }

  private static Criterion measured(YamlNode node, YamlNode measured) {
    YamlNode gauge = measured.get("gauge").orElseThrow();
    return new Criterion.Measured(
        node.text("id"), node.text("title"), node.flag("critical", false), (int) node.number("weight"),
        measured.text("quantity"), Unit.parse(measured.text("unit")).orElseThrow(), decimal(measured, "nominal"),
        measured.get("limits").map(l -> new Limits(decimal(l, "lower"), decimal(l, "upper"), l.text("source"))),
        new Gauge(gauge.text("name"), decimal(gauge, "resolution"), decimal(gauge, "uncertainty")),
        new DecisionRule(decimal(measured, "guard").orElseThrow()));
  }

  // as it is written, so that 0.10 keeps its last zero
  private static Optional<BigDecimal> decimal(YamlNode node, String key) {
    return node.optionalText(key).map(BigDecimal::new);
  }
}
