package ferrule.atlas;

import ferrule.atlas.Figure.Choice;
import ferrule.atlas.Figure.ChoiceRow;
import ferrule.atlas.Figure.PartRow;
import ferrule.drawing.LabelLayer;
import ferrule.drawing.Labels;
import ferrule.drawing.Mark;
import ferrule.drawing.Picture;
import ferrule.drawing.PictureRequest;
import ferrule.drawing.Studio;
import ferrule.drawing.View;
import ferrule.glossary.Concept;
import ferrule.glossary.ConceptId;
import ferrule.glossary.Glossary;
import ferrule.glossary.Level;
import ferrule.glossary.Variant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;

/** Makes the drawing of a part's, an assembly's or a kind's page: which view, what is lit in it, what is labelled. */
final class Figures {

  private static final int MOST_VIEWS = 10;

  private final Studio studio;
  private final Glossary glossary;
  private final Plates plates;

  Figures(Studio studio, Glossary glossary) {
    this.studio = studio;
    this.glossary = glossary;
    this.plates = new Plates(studio, glossary);
  }

  /** The address of a concept's page. */
  static String path(Concept concept) {
    return "/instrument/" + concept.id();
  }

  /** One variant of each axis, such that the concept occurs. */
  Set<String> variantsFor(Concept concept, Wish wish) {
    return plates.variantsFor(concept, wish.variants());
  }

  /** The view that shows a concept best, if any does. */
  Optional<View> bestView(Concept concept) {
    return plates.showing(concept).stream().findFirst();
  }

  /** A drawing for a concept's page; empty if neither it nor anything that it belongs to is seen in any view. */
  Optional<Figure> of(Concept page, Wish wish) {
    return Stream.concat(Stream.of(page), glossary.wholesOf(page.id()).stream())
        .filter(shown -> bestView(shown).isPresent())
        .findFirst()
        .map(shown -> figure(shown, path(page), wish));
  }

  private Figure figure(Concept subject, String page, Wish wish) {
    List<View> views = plates.showing(subject);
    View view = wish.view().flatMap(studio::view).orElse(views.get(0));
    Scene scene = new Scene(subject, view, variantsFor(subject, wish), wish.labels().orElse(Labels.TERMS));
    return scene.figure(page, wish, views);
  }

  private static boolean isWhole(Concept subject) {
    return subject.partOf().isEmpty() && subject.level() == Level.ASSEMBLY;
  }

  private static boolean isSinglePart(Concept subject) {
    return subject.level() == Level.PART || subject.level() == Level.REGION;
  }

  /** A part's neighbours: what it meets, holds, is held by or joins. */
  private Set<ConceptId> neighbours(Concept part) {
    Entry entry = Entry.of(glossary, part);
    Set<ConceptId> found = new LinkedHashSet<>();
    for (List<Concept> some :
        List.of(entry.connects(), entry.carries(), entry.carriedBy(), entry.joins(), entry.joinedBy())) {
      some.forEach(c -> found.add(c.id()));
    }
    return found;
  }

  /** A small picture of a concept in a view, for a list: no labels, and colours that need no page round them. */
  PictureRequest plate(View view, Concept concept, Wish wish) {
    Scene scene = new Scene(concept, view, variantsFor(concept, wish), Labels.NONE);
    return scene.request.withFixedColours();
  }

  /** One view of one subject on one model. */
  private final class Scene {

    private final Concept subject;
    private final View view;
    private final Set<String> variants;
    private final Labels labels;
    /** On a whole instrument the assemblies are named: it has more parts than anyone reads at once. */
    private final boolean namesAssemblies;
    private final Set<ConceptId> own;
    private final PictureRequest request;
    private final Picture picture;

    Scene(Concept subject, View view, Set<String> variants, Labels labels) {
      this.subject = subject;
      this.view = view;
      this.variants = studio.variantsOf(view, variants);
      this.labels = labels;
      this.own = plates.shapesOf(subject);
      PictureRequest plain = PictureRequest.of(view.id()).variants(variants);
      Picture unmarked = studio.picture(plain);
      this.namesAssemblies = labels == Labels.TERMS && isWhole(subject);
      this.request = plain.marks(marks(unmarked.shapes())).labels(namesAssemblies ? Labels.NONE : labels);
      this.picture = studio.picture(request);
    }

    private Map<ConceptId, Mark> marks(List<ConceptId> shapes) {
      Map<ConceptId, Mark> marks = new LinkedHashMap<>();
      boolean lights = isSinglePart(subject) || subject.level() == Level.KIND;
      Set<ConceptId> near = isSinglePart(subject) ? neighbours(subject) : Set.of();
      for (ConceptId shape : shapes) {
        if (own.contains(shape)) {
          if (lights) {
            marks.put(shape, Mark.LIT);
          }
        } else if (!near.contains(shape) && !isAboutAllOfIt()) {
          marks.put(shape, Mark.DIMMED);
        }
      }
      return marks;
    }

    private boolean isAboutAllOfIt() {
      return !isSinglePart(subject) && view.assembly().filter(subject.id()::equals).isPresent();
    }

    Figure figure(String page, Wish wish, List<View> views) {
      LabelLayer numbered =
          studio.labels(request.labels(request.labels() == Labels.NONE ? Labels.NONE : Labels.NUMBERS));
      List<PartRow> named = new ArrayList<>();
      List<PartRow> others = new ArrayList<>();
      for (int i = 0; i < picture.shapes().size(); i++) {
        ConceptId part = picture.shapes().get(i);
        String number = Optional.ofNullable(numbered.numbers().get(part)).map(String::valueOf).orElse("");
        if (picture.visible().get(part).areaPx() > 0) {
          boolean isLabelled = labels == Labels.NONE || !number.isEmpty();
          (isLabelled && isNamed(part) ? named : others).add(row(number, i, glossary.get(part), wish));
        }
      }
      named.sort(Comparator.comparingInt(row -> row.number().isEmpty() ? 999 : Integer.parseInt(row.number())));
      return new Figure(
          subject, view.title(), svg(), labels == Labels.TERMS ? narrow(numbered) : "", named, others,
          unseen(wish, true), unseen(wish, false), viewChoices(page, wish, views), models(page, wish),
          labelChoices(page, wish));
    }

    private String svg() {
      if (!namesAssemblies) {
        return picture.svg();
      }
      List<ConceptId> assemblies =
          glossary.piecesOf(subject.id()).stream()
              .filter(c -> c.level() == Level.ASSEMBLY)
              .map(Concept::id)
              .toList();
      return studio.namesOf(assemblies, request).laidOn(picture.svg());
    }

    private static String narrow(LabelLayer layer) {
      String labels = layer.svg().isEmpty() ? "<g class=\"labels\"></g>" : layer.svg();
      return "<svg class=\"narrow-labels\" viewBox=\"" + layer.viewBox() + "\">" + labels + "</svg>";
    }

    /** Whether a part is one that the drawing is about: not dimmed, and not one of all the parts of an instrument. */
    private boolean isNamed(ConceptId part) {
      return !Mark.DIMMED.equals(request.marks().get(part)) && !(request.labels() == Labels.NONE && isWhole(subject));
    }

    private PartRow row(String number, int shape, Concept part, Wish wish) {
      return new PartRow(number, shape, part.term(), wish.onlyModel().on(path(part)));
    }

    private List<PartRow> unseen(Wish wish, boolean onThisModel) {
      Set<ConceptId> shown = new HashSet<>();
      picture.visible().forEach((part, seen) -> {
        if (seen.areaPx() > 0) {
          shown.add(part);
        }
      });
      return own.stream()
          .map(glossary::get)
          .filter(c -> isSinglePart(c) && !shown.contains(c.id()) && !c.id().equals(subject.id()))
          .filter(c -> glossary.occursIn(c.id(), variants) == onThisModel)
          .map(c -> row("", -1, c, wish))
          .toList();
    }

    private List<Choice> viewChoices(String page, Wish wish, List<View> views) {
      return views.stream()
          .limit(MOST_VIEWS)
          .map(v -> new Choice(v.title(), wish.withView(v.id()).on(page), v.equals(view)))
          .toList();
    }

    private List<ChoiceRow> models(String page, Wish wish) {
      return axesThatMatter().stream()
          .map(axis -> new ChoiceRow(axis.replace('-', ' '), modelsOf(axis, wish, page)))
          .toList();
    }

    private List<Choice> labelChoices(String page, Wish wish) {
      Choice nothing = choice("Nothing", Labels.NONE, wish, page);
      if (isWhole(subject)) {
        return List.of(choice("Assemblies", Labels.TERMS, wish, page), nothing);
      }
      return List.of(
          choice("Names", Labels.TERMS, wish, page), choice("Numbers", Labels.NUMBERS, wish, page), nothing);
    }

    private Choice choice(String text, Labels other, Wish wish, String page) {
      return new Choice(text, wish.withLabels(other).on(page), other == labels);
    }

    /** The axes on which something of the subject differs, unless the subject itself is only of one model. */
    private List<String> axesThatMatter() {
      Set<String> mentioned = new HashSet<>();
      own.forEach(id -> mentioned.addAll(glossary.get(id).variants()));
      return glossary.variants().stream()
          .filter(v -> mentioned.contains(v.id()))
          .map(Variant::axis)
          .distinct()
          .filter(axis -> glossary.variants().stream()
              .filter(v -> v.axis().equals(axis))
              .allMatch(v -> glossary.occursIn(subject.id(), Set.of(v.id()))))
          .toList();
    }

    private List<Choice> modelsOf(String axis, Wish wish, String page) {
      return glossary.variants().stream()
          .filter(v -> v.axis().equals(axis))
          .map(v -> new Choice(v.title(), wish.withVariants(instead(axis, v.id())).on(page), variants.contains(v.id())))
          .toList();
    }

    private List<String> instead(String axis, String chosen) {
      return glossary.variants().stream()
          .filter(v -> v.axis().equals(axis) ? v.id().equals(chosen) : variants.contains(v.id()))
          .map(Variant::id)
          .toList();
    }
  }
}
