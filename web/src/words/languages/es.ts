import shared from '../../../../i18n/es.json';
import page from '../es.json';

export default { shared, page };
