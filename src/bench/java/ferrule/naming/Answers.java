package ferrule.naming;

import ferrule.glossary.Concept;
import ferrule.glossary.ConceptId;
import ferrule.glossary.Glossary;
import ferrule.glossary.Term;
import ferrule.glossary.TermRole;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;

/**
 * Misspelled answers with the parts that they were meant for, and the terms that every search is given: the same for all.
 *
 * @param terms each term with its part
 * @param answers each answer with its part
 */
record Answers(List<Entry> terms, List<Entry> answers) {

  private static final int LETTERS = 5;
  private static final int SEED = 7;

  /** A phrase and the part that it names. */
  record Entry(String phrase, ConceptId part) {}

  /**
   * So many answers, each with one edit in a word of five letters or more.
   *
   * @param asTyped whether the words of a term are also put in another order and its numbers and qualifiers in other words, as
   *     people do; else the term stands as it is in the list
   */
  static Answers of(Glossary glossary, int count, boolean asTyped) {
    List<Entry> terms = new ArrayList<>();
    for (Concept part : glossary.nameable()) {
      terms.add(new Entry(part.term(), part.id()));
      TradeTerms.of(glossary, part).forEach(t -> terms.add(new Entry(t, part.id())));
      for (Term term : part.terms()) {
        if (term.role() == TermRole.COLLOQUIAL) {
          terms.add(new Entry(term.text(), part.id()));
        }
      }
    }
    TermReader reader = TermReader.of(glossary);
    NameForms forms = new NameForms(glossary);
    Random random = new Random(SEED);
    List<Entry> answers = new ArrayList<>();
    while (answers.size() < count) {
      Entry entry = terms.get(random.nextInt(terms.size()));
      String phrase = asTyped ? otherForm(forms, glossary.get(entry.part()), entry.phrase(), random) : entry.phrase();
      List<Concept> read = reader.read(phrase).parts();
      List<String> slips = misspelled(phrase, random);
      if (!slips.isEmpty() && read.size() == 1 && read.get(0).id().equals(entry.part())) {
        answers.add(new Entry(slips.get(random.nextInt(slips.size())), entry.part()));
      }
    }
    return new Answers(terms, answers);
  }

  private static String otherForm(NameForms forms, Concept part, String term, Random random) {
    List<NameForms.Form> wordings = forms.wordings(part, forms.parse(part, term));
    List<String> orders = List.copyOf(forms.orders(wordings.get(random.nextInt(wordings.size()))));
    return orders.get(random.nextInt(orders.size()));
  }

  private static List<String> misspelled(String phrase, Random random) {
    String[] words = phrase.split(" ");
    int at = random.nextInt(words.length);
    boolean letters = words[at].chars().allMatch(c -> c >= 'a' && c <= 'z');
    List<String> all = new ArrayList<>();
    if (letters && words[at].length() >= LETTERS) {
      for (String slip : Slips.of(words[at])) {
        String[] changed = words.clone();
        changed[at] = slip;
        all.add(String.join(" ", changed));
      }
    }
    return all;
  }
}
