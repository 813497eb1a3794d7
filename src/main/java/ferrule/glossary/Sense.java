package ferrule.glossary;

/**
 * One of the meanings of a word that the trade uses for more than one thing, such as "saddle".
 *
 * @param id the sense's id, unique in the glossary
 * @param word the ambiguous word
 * @param gloss the meaning, in a few words fit to show beside the word
 */
public record Sense(String id, String word, String gloss) {}
