package ferrule.app;

import ferrule.curriculum.Curriculum;
import ferrule.curriculum.Problems;
import ferrule.drawing.Finish;
import ferrule.drawing.Instrument;
import ferrule.drawing.InstrumentReader;
import ferrule.drawing.Labels;
import ferrule.drawing.Picture;
import ferrule.drawing.PictureRequest;
import ferrule.drawing.Png;
import ferrule.drawing.Studio;
import ferrule.drawing.Style;
import ferrule.drawing.View;
import ferrule.glossary.Concept;
import ferrule.glossary.ConceptId;
import ferrule.glossary.Glossary;
import ferrule.glossary.GlossaryReader;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.Callable;
import picocli.CommandLine.ArgGroup;
import picocli.CommandLine.Command;
import picocli.CommandLine.ExitCode;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Spec;

/** Draws one picture of the instrument, or all of them with an index page. */
@Command(
    name = "draw",
    mixinStandardHelpOptions = true,
    description = "Draws the instrument: one view as SVG or PNG, or every view with an index page.")
public final class DrawCommand implements Callable<Integer> {

  private static final String BETWEEN_WORDS = "[^a-z0-9]+";

  /** What is drawn. */
  private static final class Subject {
    @Option(names = "--view", paramLabel = "ID", description = "The view to draw; --list names them.")
    private String view;

    @Option(names = "--all", description = "Every view, into the folder given by --out, with an index page.")
    private boolean all;

    @Option(names = "--list", description = "List the views.")
    private boolean list;
  }

  @Spec private CommandSpec spec;
  @Mixin private CurriculumOption curriculumOption;

  @ArgGroup(multiplicity = "1")
  private Subject subject;

  @Option(names = "--variant", paramLabel = "V", description = "A variant, such as student or button-key; may be repeated.")
  private Set<String> variants = new LinkedHashSet<>();

  @Option(names = "--style", defaultValue = "metal", description = "metal or line (default: ${DEFAULT-VALUE}).")
  private Style style;

  @Option(names = "--finish", defaultValue = "brass", description = "brass, silver or raw (default: ${DEFAULT-VALUE}).")
  private Finish finish;

  @Option(names = "--labels", defaultValue = "none", description = "terms, numbers or none (default: ${DEFAULT-VALUE}).")
  private Labels labels;

  @Option(names = "--light", paramLabel = "PART", description = "A part to light, by id or preferred term; may be repeated.")
  private List<String> lit = List.of();

  @Option(names = "--width", paramLabel = "PX", defaultValue = "2000", description = "Width of a PNG (default: ${DEFAULT-VALUE}).")
  private int width;

  @Option(names = "--out", paramLabel = "FILE", description = "A file that ends in .svg or .png, or a folder for --all.")
  private Path out;

  @Override
  public Integer call() {
    Curriculum curriculum = curriculumOption.open();
    Problems problems = new Problems();
    String name = curriculum.instruments().stream().findFirst()
        .orElseThrow(() -> wrong("the curriculum holds no instrument"));
    Optional<Glossary> glossary = GlossaryReader.read(curriculum, name, problems);
    Optional<Instrument> instrument = glossary.flatMap(g -> InstrumentReader.read(curriculum, name, g, problems));
    if (instrument.isEmpty()) {
      problems.all().forEach(spec.commandLine().getErr()::println);
      return ExitCode.SOFTWARE;
    }
    try {
      draw(Studio.of(instrument.get(), glossary.get()), glossary.get());
    } catch (IOException e) {
      throw new UncheckedIOException("cannot write " + out, e);
    }
    return ExitCode.OK;
  }

  private void draw(Studio studio, Glossary glossary) throws IOException {
    requireKnownVariants(glossary);
    if (subject.list) {
      studio.views().forEach(v -> spec.commandLine().getOut().println(v.id() + "\t" + v.title()));
    } else if (out == null) {
      throw wrong("--out is needed");
    } else if (subject.all) {
      drawAll(studio, glossary);
    } else {
      View view = studio.view(subject.view)
          .orElseThrow(() -> wrong("there is no view '" + subject.view + "'; --list names them"));
      write(studio, glossary, view, out);
    }
  }

  private void requireKnownVariants(Glossary glossary) {
    for (String v : variants) {
      if (glossary.variants().stream().noneMatch(known -> known.id().equals(v))) {
        throw wrong("there is no variant '" + v + "'; there are "
            + String.join(", ", glossary.variants().stream().map(known -> known.id()).toList()));
      }
    }
  }

  private void write(Studio studio, Glossary glossary, View view, Path file) throws IOException {
    String ending = file.getFileName().toString().toLowerCase(Locale.ROOT);
    if (!ending.endsWith(".svg") && !ending.endsWith(".png")) {
      throw wrong("--out must end in .svg or .png; given " + file);
    }
    // a file stands alone: no page gives it its colours
    Picture picture = studio.picture(request(glossary, view).withFixedColours());
    if (ending.endsWith(".png")) {
      Files.write(file, Png.of(picture, width));
    } else {
      Files.writeString(file, picture.svg(), StandardCharsets.UTF_8);
    }
  }

  private PictureRequest request(Glossary glossary, View view) {
    PictureRequest request =
        PictureRequest.of(view.id()).variants(variants).style(style).finish(finish).labels(labels);
    for (String part : lit) {
      request = request.lit(find(glossary, part));
    }
    return request;
  }

  private ConceptId find(Glossary glossary, String part) {
    String wanted = plain(part);
    return glossary.nameable().stream()
        .filter(c -> plain(c.id().value()).equals(wanted) || plain(c.term()).equals(wanted))
        .map(Concept::id)
        .findFirst()
        .orElseThrow(() -> wrong("there is no part '" + part + "'"));
  }

  private static String plain(String text) {
    return text.toLowerCase(Locale.ROOT).replaceAll(BETWEEN_WORDS, " ").strip();
  }

  private void drawAll(Studio studio, Glossary glossary) throws IOException {
    Files.createDirectories(out);
    StringBuilder index = new StringBuilder("<!doctype html><html lang=\"en\"><meta charset=\"utf-8\"><title>")
        .append(glossary.title()).append("</title><style>body{font:16px system-ui,sans-serif;margin:24px;")
        .append("display:grid;grid-template-columns:repeat(auto-fill,minmax(360px,1fr));gap:20px}h1{grid-column:1/-1}")
        .append("figure{margin:0}img{width:100%}</style><h1>").append(glossary.title()).append("</h1>\n");
    for (View view : studio.views()) {
      String file = view.id() + ".svg";
      write(studio, glossary, view, out.resolve(file));
      index.append("<figure><a href=\"").append(file).append("\"><img src=\"").append(file)
          .append("\" alt=\"\"></a><figcaption>").append(view.title()).append("</figcaption></figure>\n");
    }
    Files.writeString(out.resolve("index.html"), index.append("</html>\n"), StandardCharsets.UTF_8);
  }

  private ParameterException wrong(String message) {
    return new ParameterException(spec.commandLine(), message);
  }
}
