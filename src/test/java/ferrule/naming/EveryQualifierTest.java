package ferrule.naming;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.glossary.Concept;
import ferrule.glossary.ConceptId;
import ferrule.glossary.Facet;
import ferrule.glossary.Term;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import org.junit.jupiter.api.Test;

class EveryQualifierTest {

  private final NameForms forms = new NameForms(Trumpet.GLOSSARY);

  @Test
  void oneQualifierExchangedIsAWrongQualifierAndNamesTheQuestion() {
    int swaps = 0;
    List<String> failures = new ArrayList<>();
    for (Concept part : Trumpet.GLOSSARY.nameable()) {
      for (Map.Entry<String, String> swap : swaps(part).entrySet()) {
        swaps++;
        Verdict verdict = Trumpet.READER.judge(part.id(), swap.getKey());
        boolean told = verdict instanceof Verdict.WrongQualifier w && w.question().id().equals(swap.getValue());
        if (!told) {
          failures.add(part.id() + " <- " + swap + ": " + verdict.code() + " " + Trumpet.picked(swap.getKey()));
        }
      }
    }
    System.out.printf("every qualifier exchanged: %d answers, %d wrong-qualifier%n", swaps, swaps - failures.size());
    assertTrue(swaps > 400, "only " + swaps);
    assertEquals(List.of(), failures);
  }

  /** The preferred term with one facet's word, or one end of a brace, exchanged, and the question that this answers. */
  private Map<String, String> swaps(Concept part) {
    Map<String, String> swaps = new LinkedHashMap<>();
    NameForms.Form form = forms.preferred(part);
    for (int i = 0; i < form.groups().size(); i++) {
      NameForms.Group group = form.groups().get(i);
      if (group.facets().contains("slide")) {
        for (String other : otherSlides(part)) {
          swaps.put(form.with(i, new NameForms.Group(other, group.facets(), true)).text(),
              other.contains("main") || part.qualifiers().get("slide").equals("main") ? "slide" : "valve");
        }
      } else {
        String facet = group.facets().iterator().next();
        for (Facet.Value value : Trumpet.GLOSSARY.facet(facet).orElseThrow().values()) {
          if (!value.id().equals(part.qualifiers().get(facet))) {
            String said = forms.saidIn(group, facet, part);
            String words = group.words().replace(said, value.term());
            swaps.put(form.with(i, new NameForms.Group(words, group.facets(), group.thing())).text(), facet);
          }
        }
      }
    }
    return swaps;
  }

  private static List<String> otherSlides(Concept part) {
    List<String> slides = new ArrayList<>(List.of("main tuning slide", "first slide", "second slide", "third slide"));
    slides.remove(part.qualifiers().get("slide").equals("main") ? "main tuning slide" : part.qualifiers().get("valve") + " slide");
    return slides;
  }

  @Test
  void oneEndOfABraceExchangedIsAWrongQualifier() {
    List<Concept> braces = Trumpet.GLOSSARY.nameable().stream().filter(c -> c.joins().size() == 2).toList();
    int swaps = 0;
    List<String> failures = new ArrayList<>();
    for (Concept asked : braces) {
      for (Concept other : braces) {
        Set<ConceptId> shared = new HashSet<>(asked.joins());
        shared.retainAll(other.joins());
        boolean oneEnd = shared.size() == 1 && asked.broader().equals(other.broader());
        for (String name : oneEnd ? forms.braceNames(other) : Set.<String>of()) {
          swaps++;
          Verdict verdict = Trumpet.READER.judge(asked.id(), name);
          if (!(verdict instanceof Verdict.WrongQualifier w && w.question().equals(Question.JOINS))) {
            failures.add(asked.id() + " <- " + name + ": " + verdict.code() + " " + Trumpet.picked(name));
          }
        }
      }
    }
    System.out.printf("every end of a brace exchanged: %d answers, %d wrong-qualifier%n", swaps, swaps - failures.size());
    assertTrue(swaps > 50, "only " + swaps);
    assertEquals(List.of(), failures);
  }

  @Test
  void oneQualifierLeftOutIsTooVagueWithThePartsThatFitOrRightWhereItWasNotNeeded() {
    int drops = 0;
    int right = 0;
    List<String> failures = new ArrayList<>();
    for (Concept part : Trumpet.GLOSSARY.nameable()) {
      NameForms.Form form = forms.preferred(part);
      for (int i = 0; i < form.groups().size(); i++) {
        for (String facet : form.groups().get(i).facets()) {
          drops++;
          String left = forms.without(form, i, facet, part).text();
          Set<String> stated = new TreeSet<>(part.qualifiers().keySet());
          stated.remove(facet);
          Set<String> expected = partsWith(form.noun(), stated, part, facet.equals("slide") ? "" : "slide");
          Verdict verdict = Trumpet.READER.judge(part.id(), left);
          boolean alone = expected.size() == 1 && verdict.namesThePart();
          right += alone ? 1 : 0;
          if (!alone && !(verdict instanceof Verdict.TooVague v && ids(v.fits()).equals(expected))) {
            failures.add(part.id() + " <- " + left + ": " + verdict.code() + " " + Trumpet.picked(left) + " expected " + expected);
          }
        }
      }
    }
    System.out.printf(
        "every qualifier left out: %d answers, %d right because it was not needed, %d too vague with the parts that fit%n",
        drops, right, drops - right - failures.size());
    assertTrue(drops > 200, "only " + drops);
    assertEquals(List.of(), failures);
  }

  private static Set<String> ids(List<Concept> parts) {
    return new TreeSet<>(parts.stream().map(c -> c.id().value()).toList());
  }

  /**
   * The parts that can be called by this noun and answer the stated questions as the part does, found from the glossary
   * without the reader. A bare "slide" says only that it is of some slide.
   */
  private Set<String> partsWith(String noun, Set<String> stated, Concept part, String loose) {
    Set<String> found = new TreeSet<>();
    for (Concept other : Trumpet.GLOSSARY.nameable()) {
      boolean agrees =
          stated.stream().allMatch(
              f -> f.equals(loose) && part.qualifiers().get(f).equals("valve")
                  ? other.qualifiers().containsKey(f)
                  : part.qualifiers().get(f).equals(other.qualifiers().get(f)));
      if (agrees && nouns(other).contains(noun)) {
        found.add(other.id().value());
      }
    }
    return found;
  }

  private Set<String> nouns(Concept part) {
    Set<String> nouns = new HashSet<>();
    for (Term term : forms.terms(part)) {
      nouns.add(forms.parse(part, term.text()).noun());
    }
    for (Concept kind : Trumpet.GLOSSARY.kindsOf(part.id())) {
      kind.terms().forEach(t -> nouns.add(t.text()));
      kind.terms().forEach(t -> nouns.add(forms.parse(part, t.text()).noun()));
    }
    return nouns;
  }
}
