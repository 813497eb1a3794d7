package ferrule.competency;

import ferrule.bench.Standing;
import ferrule.bench.Task;
import ferrule.bench.TaskBook;
import ferrule.bench.TaskId;
import ferrule.curriculum.Curriculum;
import ferrule.curriculum.Problems;
import ferrule.curriculum.YamlNode;
import ferrule.glossary.Concept;
import ferrule.glossary.ConceptId;
import ferrule.glossary.Glossary;
import ferrule.glossary.Level;
import java.util.ArrayList;
import java.util.Collection;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/** Reads {@code programme.yaml}. */
public final class ProgrammeReader {

  private static final String FILE = "programme.yaml";

  private final TaskBook tasks;
  private final Collection<Glossary> glossaries;
  private final Problems problems;
  private final Set<String> ids = new HashSet<>();

  private ProgrammeReader(TaskBook tasks, Collection<Glossary> glossaries, Problems problems) {
    this.tasks = tasks;
    this.glossaries = glossaries;
    this.problems = problems;
  }

  /**
   * The programme; empty if it has a fault, which is then among the problems.
   *
   * @param tasks that its rules name
   * @param glossaries whose assemblies its rules name
   */
  public static Optional<Programme> read(
      Curriculum curriculum, TaskBook tasks, Collection<Glossary> glossaries, Problems problems) {
    Problems own = new Problems();
    ProgrammeReader reader = new ProgrammeReader(tasks, glossaries, own);
    Optional<Programme> programme =
        curriculum.read(FILE, "programme", own).map(root -> reader.programme(root, curriculum.edition()));
    own.all().forEach(p -> problems.add(p.at(), p.message()));
    return own.isEmpty() ? programme : Optional.empty();
  }

  private Programme programme(YamlNode root, String edition) {
    List<Area> areas = new ArrayList<>();
    for (YamlNode node : root.list("areas")) {
      requireNewId(node);
      List<Competency> competencies = new ArrayList<>();
      node.list("competencies").forEach(c -> competency(c).ifPresent(competencies::add));
      areas.add(new Area(node.text("id"), node.text("title"), competencies));
    }
    return new Programme(root.text("id"), root.text("title"), edition, areas);
  }

  private void requireNewId(YamlNode node) {
    if (!ids.add(node.text("id"))) {
      problems.add(node.keyAt("id"), "id '" + node.text("id") + "' stands twice; expected another id");
    }
  }

  private Optional<Competency> competency(YamlNode node) {
    requireNewId(node);
    return requirement(node.get("requires").orElseThrow())
        .map(r -> new Competency(node.text("id"), node.text("title"), node.text("says"), r));
  }

  private Optional<Requirement> requirement(YamlNode node) {
    Map.Entry<String, YamlNode> rule = node.entries().entrySet().iterator().next();
    YamlNode body = rule.getValue();
    return switch (rule.getKey()) {
      case "all" -> parts(body).map(Requirement.AllOf::new);
      case "any" -> parts(body).map(parts -> new Requirement.AtLeast(1, parts));
      case "at-least" -> atLeast(body);
      case "signed" -> signed(body);
      default -> names(body);
    };
  }

  private Optional<List<Requirement>> parts(YamlNode list) {
    List<Requirement> parts = new ArrayList<>();
    list.items().forEach(item -> requirement(item).ifPresent(parts::add));
    return parts.size() == list.items().size() ? Optional.of(parts) : Optional.empty();
  }

  private Optional<Requirement> atLeast(YamlNode body) {
    int n = (int) body.number("n");
    int size = body.list("of").size();
    if (n > size) {
      problems.add(body.keyAt("n"), "at least " + n + " of " + size + " cannot be reached; expected 1 to " + size);
      return Optional.empty();
    }
    return parts(body.get("of").orElseThrow()).map(parts -> new Requirement.AtLeast(n, parts));
  }

  private Optional<Requirement> signed(YamlNode body) {
    Optional<Task> task = tasks.find(TaskId.of(body.text("task")));
    if (task.isEmpty()) {
      problems.add(body.get("task").orElseThrow().at(),
          "no task has the id '" + body.text("task") + "'; expected one of the instruments' tasks");
    }
    return task.map(t -> new Requirement.Signed(
        t.id(), t.title(), body.optionalText("standing").map(Standing::parse).orElse(Standing.SOUND),
        count(body, "times"), count(body, "instruments"), count(body, "instructors")));
  }

  private static int count(YamlNode body, String key) {
    return (int) body.optionalNumber(key).orElse(1);
  }

  private Optional<Requirement> names(YamlNode body) {
    ConceptId id = ConceptId.of(body.text("assembly"));
    Optional<Concept> assembly = glossaries.stream().flatMap(g -> g.find(id).stream()).findFirst();
    boolean wrong = assembly.isEmpty() || assembly.get().level() != Level.ASSEMBLY;
    if (wrong) {
      problems.add(body.get("assembly").orElseThrow().at(),
          "no glossary has an assembly '" + id + "'; expected the id of an assembly");
    }
    return wrong ? Optional.empty()
        : Optional.of(new Requirement.Names(id, assembly.get().term(), (int) body.number("percent")));
  }
}
